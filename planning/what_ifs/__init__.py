"""What a plan would come to under another sky, later, or without one lens."""
