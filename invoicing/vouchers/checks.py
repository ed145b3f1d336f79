"""What must be true of vouchers."""

from collections.abc import Iterator

from invoicing.vouchers.queries import off_balance
from studio.checks import verifies


@verifies("vouchers")
def vouchers_off_balance() -> Iterator[str]:
    """Yield a sentence for each voucher that its payments do not explain."""
    for voucher in off_balance():
        yield f"{voucher} holds another sum than its sale and redemptions leave."
