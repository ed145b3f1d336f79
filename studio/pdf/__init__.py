"""Paper: stationery, type, tables and drawings. Only documents import it."""
