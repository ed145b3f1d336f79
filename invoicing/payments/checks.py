"""What must be true of money received."""

from collections.abc import Iterator

from invoicing.payments.models import Payment
from studio.checks import verifies


@verifies("payments")
def overspent_payments() -> Iterator[str]:
    """Yield a sentence for each payment that settles more than it brought."""
    for payment in Payment.objects.standing().overspent():
        yield f"Payment {payment.pk} settles more than it brought."
