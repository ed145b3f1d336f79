"""What the owner takes out of the business, and puts into it."""
