"""What the one search box looks through: folded words of each thing, kept ready."""
