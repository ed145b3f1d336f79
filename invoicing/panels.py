"""What this app shows on pages of others; importing registers it."""

from invoicing.invoices import panels as invoices
from invoicing.quotes import panels as quotes
from invoicing.trials import panels as trials

__all__ = ["invoices", "quotes", "trials"]
