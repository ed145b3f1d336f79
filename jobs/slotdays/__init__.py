"""Slot days: one session with many sittings, each with a time and a job of its own."""
