"""What each payment brings of a sale's tax, where tax is counted by receipt.

A part payment brings the tax in the same share as it pays of the paper, cumulated and
rounded at each step, so that the last payment clears to the cent.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from invoicing.books.bases import RECEIPT, Bases
from invoicing.books.facts import Facts, PaperFact, PurchaseFact, RateSum, summed
from studio.money import allocate, round_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What comes due of a paper's sums on a day, and the tax of what was given up."""

    paper: PaperFact
    on: date
    due: tuple[RateSum, ...]
    lost: tuple[RateSum, ...]
    """The sums given up: their tax was never due."""


@dataclass(frozen=True, slots=True)
class _Move:
    """Money set on a paper, or a debt written off; below zero, taken off again."""

    on: date
    minor: int
    is_loss: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sale:
    """A paper counted by receipt, with what lowers and settles it, until that ends."""

    paper: PaperFact
    notes: list[PaperFact]
    moves: list[_Move]
    ends: date


@dataclass(frozen=True, slots=True)
class _Reached:
    """What of a paper's sums is due by a day, and what was given up."""

    due: list[RateSum]
    lost: list[RateSum]


def held_papers(papers: Iterable[PaperFact], bases: Bases) -> set[str]:
    """Return the numbers of the papers that are counted by receipt: a credit note as
    the paper that it corrects.
    """
    by_number = {paper.number: paper for paper in papers}
    return {
        number
        for number, paper in by_number.items()
        if bases.on(by_number.get(paper.corrects, paper).tax_point_on) == RECEIPT
    }


def claimed_on(purchase: PurchaseFact, bases: Bases) -> date | None:
    """Return on which day the tax of a purchase is claimed back; None is not yet."""
    ends = bases.by_receipt_until(purchase.bought_on)
    days = [day for day in (purchase.paid_on, ends) if day]
    return ends if ends == purchase.bought_on else min(days, default=None)


def receipt_steps(facts: Facts, bases: Bases) -> Iterator[Step]:
    """Yield each step of the sales that are counted by receipt."""
    for sale in _sales(facts, bases):
        yield from _paid(sale)


def _sales(facts: Facts, bases: Bases) -> Iterator[_Sale]:
    notes: dict[str, list[PaperFact]] = defaultdict(list)
    for paper in facts.papers:
        notes[paper.corrects].append(paper)
    moves: dict[str, list[_Move]] = defaultdict(list)
    for payment in facts.payments:
        for on, number, minor in payment.settled():
            moves[number].append(_Move(on, minor, payment.is_loss))
    for paper in notes[""]:
        if bases.on(paper.tax_point_on) == RECEIPT:
            yield _Sale(
                paper=paper,
                notes=notes[paper.number],
                moves=sorted(moves[paper.number], key=lambda one: (one.on, one.minor)),
                ends=bases.by_receipt_until(paper.tax_point_on) or date.max,
            )


def _paid(sale: _Sale) -> Iterator[Step]:
    """Yield what each payment brings, and what a refund takes back.

    A credit note lowers what the invoice is worth from its day on; money that is
    back with the client by then brings nothing any more.
    """
    before = _Reached(_nothing(sale.paper.rows), _nothing(sale.paper.rows))
    paid = lost = 0
    for move in sale.moves:
        if move.on >= sale.ends:
            break
        paid += 0 if move.is_loss else move.minor
        lost += move.minor if move.is_loss else 0
        worth = _worth(sale, move.on)
        due = _brought(worth, paid)
        now = _Reached(due, _less_each(_brought(worth, paid + lost), due))
        yield _between(sale.paper, move.on, before, now)
        before = now
    if sale.ends < date.max:
        yield from _rest(sale, before)


def _rest(sale: _Sale, before: _Reached) -> Iterator[Step]:
    """Yield all that is due at last on the day on which the basis by receipt ends.

    From there on credit notes count by themselves.
    """
    worth = _worth(sale, sale.ends - timedelta(days=1))
    now = _Reached(_less_each(worth, before.lost), before.lost)
    yield _between(sale.paper, sale.ends, before, now)
    for note in sale.notes:
        if note.tax_point_on >= sale.ends:
            due = _less_each(_nothing(note.rows), note.rows)
            yield Step(paper=note, on=note.tax_point_on, due=tuple(due), lost=())


def _between(paper: PaperFact, on: date, before: _Reached, now: _Reached) -> Step:
    return Step(
        paper=paper,
        on=on,
        due=_some(_less_each(now.due, before.due)),
        lost=_some(_less_each(now.lost, before.lost)),
    )


def _some(rows: Iterable[RateSum]) -> tuple[RateSum, ...]:
    return tuple(row for row in rows if row.taxable_minor or row.tax_minor)


def _nothing(rows: Iterable[RateSum]) -> list[RateSum]:
    return [replace(row, taxable_minor=0, tax_minor=0) for row in rows]


def _worth(sale: _Sale, on: date) -> list[RateSum]:
    """Return the sums of a sale less what was credited by a day."""
    rows = sale.paper.rows
    known = [note for note in sale.notes if note.tax_point_on <= on]
    off = {row.code: row for row in summed(r for note in known for r in note.rows)}
    nothing = _nothing(rows)
    return _less_each(rows, [off.get(none.code, none) for none in nothing])


def _less_each(rows: Iterable[RateSum], off: Iterable[RateSum]) -> list[RateSum]:
    return [
        replace(
            row,
            taxable_minor=row.taxable_minor - less.taxable_minor,
            tax_minor=row.tax_minor - less.tax_minor,
        )
        for row, less in zip(rows, off, strict=True)
    ]


def _brought(worth: list[RateSum], paid: int) -> list[RateSum]:
    total = sum(row.gross_minor for row in worth)
    if total <= 0:
        return _nothing(worth)
    reached = min(paid, total)
    parts = allocate(reached, [row.gross_minor for row in worth])
    taxes = [round_minor(Fraction(row.tax_minor * reached, total), 0) for row in worth]
    return [
        replace(row, taxable_minor=part - tax, tax_minor=tax)
        for row, part, tax in zip(worth, parts, taxes, strict=True)
    ]
