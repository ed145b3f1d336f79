"""Letters about a session that the owner words once, and edits each time."""
