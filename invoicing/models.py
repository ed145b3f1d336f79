"""Where Django looks for this app's tables; each lives with its aggregate."""
