"""Where Django looks for this app's tables; each lives with its aggregate."""

from invoicing.invoices.models import Invoice, InvoiceDraft, IssuedDocument, TaxRow
from invoicing.payments.models import Allocation, Payment, PaymentReversal
from invoicing.prices.models import PriceItem
from invoicing.quotes.models import Acceptance, ClientQuestion, Quote, QuoteLine

__all__ = [
    "Acceptance",
    "Allocation",
    "ClientQuestion",
    "Invoice",
    "InvoiceDraft",
    "IssuedDocument",
    "Payment",
    "PaymentReversal",
    "PriceItem",
    "Quote",
    "QuoteLine",
    "TaxRow",
]
