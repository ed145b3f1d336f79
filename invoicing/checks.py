"""What must be true of the books; importing registers it."""

from invoicing.books import checks as books_checks
from invoicing.invoices import checks as invoices_checks
from invoicing.payments import checks as payments_checks
from invoicing.quotes import checks as quotes_checks
from invoicing.vouchers import checks as vouchers_checks

__all__ = [
    "books_checks",
    "invoices_checks",
    "payments_checks",
    "quotes_checks",
    "vouchers_checks",
]
