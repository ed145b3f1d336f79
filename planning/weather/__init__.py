"""Weather as seen for a session: read by hand, and what it means for the plan."""
