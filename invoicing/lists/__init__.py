"""Money as tables: narrowed, sorted, summed, printed together, taken away as sheets."""
