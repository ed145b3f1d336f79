"""What this app shows on pages of others; importing registers it."""

from invoicing.bank import panels as bank
from invoicing.books import panels as books
from invoicing.invoices import panels as invoices
from invoicing.owed import panels as owed
from invoicing.questions import panels as questions
from invoicing.quotes import panels as quotes
from invoicing.quotes import touched
from invoicing.sharing import panels as sharing
from invoicing.trials import panels as trials

__all__ = [
    "bank",
    "books",
    "invoices",
    "owed",
    "questions",
    "quotes",
    "sharing",
    "touched",
    "trials",
]
