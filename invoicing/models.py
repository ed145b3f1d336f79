"""Where Django looks for this app's tables; each lives with its aggregate."""

from invoicing.bank.models import BankLine, BankStatement, PayoutPayment
from invoicing.books.models import AccountCode
from invoicing.drawings.models import OwnerMove
from invoicing.invoices.balances import InvoiceBalance
from invoicing.invoices.models import Invoice, InvoiceDraft, IssuedDocument, TaxRow
from invoicing.owed.models import LateBand, LateRate, Promise, Reminder
from invoicing.payments.balances import PaymentBalance
from invoicing.payments.models import (
    Allocation,
    Payment,
    PaymentReversal,
    PrintedReceipt,
)
from invoicing.periods.models import ClosedPeriod
from invoicing.prices.models import PackagePart, PriceItem, RateChange
from invoicing.purchases.models import Purchase
from invoicing.questions.models import PaperQuestion
from invoicing.quotes.models import Acceptance, ClientQuestion, Quote, QuoteLine
from invoicing.sharing.models import PackShare
from invoicing.vouchers.models import Voucher

__all__ = [
    "Acceptance",
    "AccountCode",
    "Allocation",
    "BankLine",
    "BankStatement",
    "ClientQuestion",
    "ClosedPeriod",
    "Invoice",
    "InvoiceBalance",
    "InvoiceDraft",
    "IssuedDocument",
    "LateBand",
    "LateRate",
    "OwnerMove",
    "PackShare",
    "PackagePart",
    "PaperQuestion",
    "Payment",
    "PaymentBalance",
    "PaymentReversal",
    "PayoutPayment",
    "PriceItem",
    "PrintedReceipt",
    "Promise",
    "Purchase",
    "Quote",
    "QuoteLine",
    "RateChange",
    "Reminder",
    "TaxRow",
    "Voucher",
]
