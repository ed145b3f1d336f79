"""Periods of the books: once closed, nothing is dated into them any more."""
