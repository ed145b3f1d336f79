"""Who owes what on any day, by age; and a client's account between two days."""
