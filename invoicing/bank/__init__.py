"""The bank's own lines: read from statements, and matched with what they are for."""
