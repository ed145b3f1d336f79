"""What this app shows on pages of others; importing registers it."""

from invoicing.invoices import panels as invoices_panels

__all__ = ["invoices_panels"]
