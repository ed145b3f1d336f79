"""An invoice as far as it can be taken back: what it says, and what is left of it.

Plain arithmetic in integer minor units.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from invoicing.invoices.content import Content, ContentLine
from invoicing.tax.model import Pair, plain_rate
from invoicing.tax.parts import parts_of, sums_by_pair
from studio.errors import DomainError
from studio.money import exponent

Row = tuple[int, int]
"""What is taxable, and the tax on it."""


class CreditError(DomainError):
    """An invoice cannot be credited."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is taken back of one line: so many, a lower price for all, or a sum."""

    line: int
    quantity_thousandths: int = 0
    new_price_minor: int | None = None
    amount_minor: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Credited:
    """An invoice, and what its credit notes took back so far."""

    content: Content
    rows: Mapping[Pair, Row]
    before: Sequence[Mapping[Pair, Row]] = ()
    lines_before: Sequence[Mapping[int, int]] = ()

    @property
    def left(self) -> dict[Pair, Row]:
        """What is left of each category and rate."""
        left = dict(self.rows)
        for note in self.before:
            for pair, (taxable, tax) in note.items():
                now = left.get(pair, (0, 0))
                left[pair] = now[0] - taxable, now[1] - tax
        return left

    @property
    def line_sums(self) -> list[int]:
        """What each line came to, as the paper prints it."""
        digits = exponent(self.content.currency)
        return [int(net.scaleb(digits)) for net in self.content.full_totals().line_nets]

    @property
    def lines_left(self) -> list[int]:
        """What is left of each line, before any discount."""
        left = self.line_sums
        for note in self.lines_before:
            for line, minor in note.items():
                left[line] -= minor
        return left

    @property
    def is_spent(self) -> bool:
        """Whether nothing is left to take back."""
        return bool(self.before) and not any(map(any, self.left.values()))

    @property
    def is_gross(self) -> bool:
        """Whether the prices have the tax in them."""
        return self.content.price_basis == "gross"

    @property
    def left_on_paper(self) -> dict[Pair, int]:
        """What is left of each pair, on the basis of the prices."""
        return {
            pair: taxable + (tax if self.is_gross else 0)
            for pair, (taxable, tax) in self.left.items()
        }

    @property
    def deducted(self) -> dict[Pair, int]:
        """What earlier deposits took off each pair, on the basis of the prices."""
        sums: dict[Pair, int] = {}
        for one in self.content.deductions:
            pair = one.category, plain_rate(Decimal(one.tax_rate_basis_points) / 100)
            minor = one.taxable_minor + (one.tax_minor if self.is_gross else 0)
            sums[pair] = sums.get(pair, 0) + minor
        return sums

    def discount_on(self, pair: Pair) -> Row:
        """Return the discount on a pair, and what its lines come to before it."""
        parts = parts_of(self.content.document())
        off = sums_by_pair(parts.allowances).get(pair, 0)
        return off, sums_by_pair(parts.lines).get(pair, 0)


def pair_of(line: ContentLine) -> Pair:
    """Return the category and rate of a line."""
    return line.category, plain_rate(line.rate)
