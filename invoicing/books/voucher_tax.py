"""The tax of vouchers that were taxed when they were sold.

Such a voucher is for one kind of work at a known rate: its tax is due at the sale, and
what it pays of an invoice is taken out of the tax again, so that nothing is taxed
twice (Directive (EU) 2016/1065, articles 30a and 30b, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from studio.money import round_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class Redeemed:
    """A redeemed part of a voucher, and when that was taken back, if it was."""

    payment_id: int
    minor: int
    at: datetime
    back_at: datetime | None = None


def shares_of_tax(
    amount_minor: int, tax_minor: int, parts: Iterable[Redeemed]
) -> dict[int, int]:
    """Return the tax in each part, by payment.

    It is cumulated and rounded at each step: once all is redeemed, the parts that stand
    hold the tax of the sale to the cent, also after some were taken back.
    """
    steps = []
    for part in parts:
        steps.append((part.at, part, True))
        if part.back_at:
            steps.append((part.back_at, part, False))
    steps.sort(key=lambda step: step[0])
    spent = taxed = 0
    shares: dict[int, int] = {}
    for _, part, is_taken in steps:
        if is_taken:
            spent += part.minor
            due = round_minor(Fraction(tax_minor * spent, amount_minor), 0)
            shares[part.payment_id] = due - taxed
            taxed = due
        else:
            spent -= part.minor
            taxed -= shares[part.payment_id]
    return shares
