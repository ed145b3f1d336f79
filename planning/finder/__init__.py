"""Slots for a session: when a place has the light that is wanted, and all is free."""
