"""What must be true of money received, and of the balances that it moves."""

from collections.abc import Iterator

from django.db.models import Case, F, Q, Value, When
from django.db.models.functions import Coalesce

from invoicing.invoices.models import Invoice
from invoicing.payments.models import Allocation, Method, Payment
from studio.checks import verifies


@verifies("payments")
def overspent_payments() -> Iterator[str]:
    """Yield a sentence for each payment that settles more than it brought."""
    for payment in Payment.objects.standing().overspent():
        yield f"Payment {payment.pk} settles more than it brought."


@verifies("balances")
def wrong_balances() -> Iterator[str]:
    """Yield a sentence for each balance kept that its rows do not add up to."""
    invoices = Invoice.objects.invoices().with_balance().defer("snapshot")
    kept = Coalesce("balance__open_minor", 0)
    right = Q(balance__isnull=False, balance_minor=kept)
    for invoice in invoices.exclude(right).order_by("pk"):
        yield (
            f"What is kept as open on {invoice.number} is not what its rows add up to."
        )
    for payment in _payments_with_other_rest():
        yield (
            f"What is kept as loose of payment {payment.pk} is not what its rows add "
            "up to."
        )
    moved_on = Coalesce("moved_on", "payment__received_on")
    shares = Allocation.objects.filter(invoice__balance__last_on__lt=moved_on)
    credited = Invoice.objects.filter(corrects__balance__last_on__lt=F("tax_point_on"))
    later = Q(pk__in=shares.values("invoice")) | Q(
        pk__in=credited.order_by().values("corrects")
    )
    for number in Invoice.objects.filter(later).order_by("pk").values_list("number"):
        yield f"Something moved {number[0]} later than its balance says."


def _payments_with_other_rest() -> Iterator[Payment]:
    is_sale = Q(voucher__isnull=False) & ~Q(method=Method.VOUCHER)
    rest = Case(
        When(is_sale | Q(reversal__isnull=False), then=Value(0)),
        default=F("amount_minor") + F("rounding_minor") - F("set_minor"),
    )
    right = Q(balance__isnull=False, rest_minor=Coalesce("balance__loose_minor", 0))
    counted = Payment.objects.with_loose().annotate(rest_minor=rest)
    yield from counted.exclude(right).order_by("pk")
