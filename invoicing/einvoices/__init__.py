"""E-invoices: an issued paper as data, by the European standard EN 16931."""
