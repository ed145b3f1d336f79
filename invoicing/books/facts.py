"""What the books are made of, as plain values: papers, payments, purchases.

Amounts are integer minor units of one currency. Nothing here reads a database, so the
arithmetic of the books can be checked by hand.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple


@dataclass(frozen=True, slots=True, kw_only=True)
class RateSum:
    """What was taxable in one category at one rate, and the tax on it."""

    category: str
    rate_basis_points: int
    taxable_minor: int
    tax_minor: int

    @property
    def gross_minor(self) -> int:
        """Taxable sum and tax together."""
        return self.taxable_minor + self.tax_minor

    @property
    def code(self) -> str:
        """The tax code of a posting, such as S20 or E0."""
        rate = self.rate_basis_points / 100
        return f"{self.category}{rate:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperFact:
    """An issued invoice or credit note. `deducted` is what was
    invoiced ahead, as this paper itself was if it `is_ahead`: deposits and stages.

    A credit note has positive sums and names the paper that it `corrects`.
    """

    pk: int
    number: str
    party: str
    tax_point_on: date
    rows: tuple[RateSum, ...]
    deducted: tuple[RateSum, ...] = ()
    is_ahead: bool = False
    corrects: str = ""
    due_on: date | None = None
    client_id: int = 0

    @property
    def sign(self) -> int:
        """1 for an invoice, -1 for a credit note."""
        return -1 if self.corrects else 1

    @property
    def gross_minor(self) -> int:
        """The sum of the paper, with tax."""
        return sum(row.gross_minor for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareMove:
    """Money on account set on a paper later than it came; below zero, taken off."""

    pk: int
    on: date
    number: str
    minor: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentFact:
    """Money that came in, or went back below zero, and the papers that it settles.

    `voucher` names the voucher that it paid for, or that it redeems by its method.
    """

    pk: int
    party: str
    on: date
    amount_minor: int
    method: str
    shares: tuple[tuple[str, int], ...] = ()
    moves: tuple[ShareMove, ...] = ()
    reversed_on: date | None = None
    client_id: int = 0
    voucher: str = ""
    rounding_minor: int = 0
    voucher_tax: RateSum | None = None
    """What it holds of a voucher that was taxed at its sale, sold or redeemed by it."""

    @property
    def worth_minor(self) -> int:
        """What it settles: what moved, and what coins left off."""
        return self.amount_minor + self.rounding_minor

    @property
    def number(self) -> str:
        """How lists and postings name the payment."""
        return f"{'Loss' if self.is_loss else 'Payment'} {self.pk}"

    @property
    def is_loss(self) -> bool:
        """Whether it writes a debt off, and no money came."""
        return self.method == "LOSS"

    @property
    def moves_money(self) -> bool:
        """Whether money came in or went back with it."""
        return not (self.is_loss or self.is_redemption)

    @property
    def is_redemption(self) -> bool:
        """Whether a voucher paid, whose money came in when it was sold."""
        return self.method == "VOUCHER"

    @property
    def sells_voucher(self) -> bool:
        """Whether it is the price of a voucher, and so no part of any account."""
        return bool(self.voucher) and not self.is_redemption

    @property
    def unallocated_minor(self) -> int:
        """What settled no paper when it came."""
        return self.worth_minor - sum(share for _, share in self.shares)

    @property
    def settles(self) -> tuple[str, ...]:
        """The numbers of the papers that it is set on."""
        sums: dict[str, int] = {}
        for number, minor in (
            *self.shares,
            *((move.number, move.minor) for move in self.moves),
        ):
            sums[number] = sums.get(number, 0) + minor
        return tuple(number for number, minor in sums.items() if minor)

    def loose_minor(self, on: date) -> int:
        """Return what stands on account at the end of a day."""
        is_back = self.reversed_on is not None and self.reversed_on <= on
        if self.sells_voucher or is_back or self.on > on:
            return 0
        moved = sum(move.minor for move in self.moves if move.on <= on)
        return self.unallocated_minor - moved

    def settled(self) -> list[tuple[date, str, int]]:
        """Return what it took off papers: day, number and sum, until it is reversed."""
        steps = [(self.on, number, share) for number, share in self.shares]
        steps += [(move.on, move.number, move.minor) for move in self.moves]
        if self.reversed_on:
            steps += [(self.reversed_on, number, -minor) for _, number, minor in steps]
        return steps


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseFact:
    """Something bought. Tax that cannot be claimed is part of the cost.

    `private_minor` of the net and `private_tax_minor` of the tax are the owner's own.
    """

    pk: int
    supplier: str
    kind: str
    bought_on: date
    paid_on: date | None
    paid_from: str
    net_minor: int
    tax_minor: int
    rate_basis_points: int = 0
    private_minor: int = 0
    private_tax_minor: int = 0

    @property
    def number(self) -> str:
        """How lists and postings name the purchase."""
        return f"Purchase {self.pk}"

    @property
    def gross_minor(self) -> int:
        """What was paid or is owed for it."""
        return self.net_minor + self.tax_minor

    @property
    def cost_minor(self) -> int:
        """What the business bears, without tax that it claims back."""
        return self.net_minor - self.private_minor

    @property
    def claimed_minor(self) -> int:
        """The tax that the business claims back."""
        return self.tax_minor - self.private_tax_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class PayoutFact:
    """Card takings that a card service paid into the account, after its fee."""

    pk: int
    party: str
    on: date
    amount_minor: int

    @property
    def number(self) -> str:
        """How postings name the payout."""
        return f"Bank line {self.pk}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerFact:
    """Money that the owner put in; below zero, money that they took out."""

    pk: int
    on: date
    amount_minor: int
    moved_by: str
    note: str = ""

    @property
    def number(self) -> str:
        """How lists and postings name the move."""
        return f"Own money {self.pk}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Everything that the books of one currency are made of."""

    currency: str
    papers: tuple[PaperFact, ...] = ()
    payments: tuple[PaymentFact, ...] = ()
    purchases: tuple[PurchaseFact, ...] = ()
    payouts: tuple[PayoutFact, ...] = ()
    own: tuple[OwnerFact, ...] = ()


class _Key(NamedTuple):
    category: str
    rate_basis_points: int


def summed(sums: Iterable[RateSum]) -> list[RateSum]:
    """Return sums by category and rate, the highest rate first."""
    found: dict[_Key, list[int]] = defaultdict(lambda: [0, 0])
    for one in sums:
        both = found[_Key(one.category, one.rate_basis_points)]
        both[0] += one.taxable_minor
        both[1] += one.tax_minor
    rows = [
        RateSum(**key._asdict(), taxable_minor=taxable, tax_minor=tax)
        for key, (taxable, tax) in found.items()
    ]
    return sorted(rows, key=lambda row: (-row.rate_basis_points, row.category))
