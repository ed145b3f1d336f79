"""What must be true of money received."""

from collections.abc import Iterator

from django.db.models import F, Sum

from invoicing.payments.models import Payment
from studio.checks import verifies


@verifies("payments")
def overspent_payments() -> Iterator[str]:
    """Yield a sentence for each payment that settles more than it brought."""
    spent = Payment.objects.filter(amount_minor__gt=0).annotate(
        settled=Sum("allocations__amount_minor")
    )
    for payment in spent.filter(settled__gt=F("amount_minor")):
        yield f"Payment {payment.pk} settles more than it brought."
