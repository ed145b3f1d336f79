"""What would help when a set-up does not fit: each remedy is a changed request."""
