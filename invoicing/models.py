"""Where Django looks for this app's tables; each lives with its aggregate."""

from invoicing.invoices.models import Invoice, InvoiceDraft, IssuedDocument, TaxRow
from invoicing.payments.models import Allocation, Payment, PaymentReversal

__all__ = [
    "Allocation",
    "Invoice",
    "InvoiceDraft",
    "IssuedDocument",
    "Payment",
    "PaymentReversal",
    "TaxRow",
]
