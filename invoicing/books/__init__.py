"""The books: what was sold, bought and paid, as a tax summary and as a journal."""
