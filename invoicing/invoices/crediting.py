"""What a credit note takes back of an invoice, and what is left to take.

Plain arithmetic in integer minor units. Whatever was taken back, what is left of each
rate is worked out on what is left, so that an invoice and all its credit notes come to
the cent to what the client keeps.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.credited import Credited, CreditError, Piece, Row, pair_of
from invoicing.tax import Totals
from invoicing.tax.model import Pair
from invoicing.tax.parts import parts_of, tax_minor
from invoicing.tax.sums import totals_from_minor
from studio.money import Money, exponent, round_minor
from studio.wording import money_words, plain_number

ROUNDING: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CreditNote:
    """What a credit note says, and what it takes of each line of the invoice."""

    content: Content
    totals: Totals
    lines: Mapping[int, int]
    takes_all: bool


def whole(credited: Credited) -> CreditNote:
    """Take back all that is left. Raises CreditError."""
    if credited.is_spent:
        raise CreditError("Nothing of this invoice is left to take back.")
    left = dict(enumerate(credited.lines_left))
    if not credited.before:
        totals = credited.content.totals()
        return CreditNote(
            content=credited.content, totals=totals, lines=left, takes_all=True
        )
    taken = {line: minor for line, minor in left.items() if minor}
    pieces = [Piece(line=line, amount_minor=minor) for line, minor in taken.items()]
    lines = [_written(credited, piece, taken[piece.line]) for piece in pieces]
    deductions = credited.content.deductions
    lines += _fitted(credited, lines, credited.left_on_paper, deductions)
    content = _content(credited.content, lines)
    return CreditNote(
        content=replace(content, deductions=deductions),
        totals=_totals(credited, credited.left, lines),
        lines=taken,
        takes_all=True,
    )


def part(credited: Credited, pieces: Sequence[Piece]) -> CreditNote:
    """Take back pieces of lines, each with its share of a discount.

    Raises CreditError for more than what is left of a line or of its rate.
    """
    taken = {piece.line: _minor_of(credited, piece) for piece in pieces}
    if len(taken) < len(pieces):
        raise CreditError("Say one thing of each line.")
    if not any(taken.values()):
        raise CreditError("Say what is taken back: a quantity, a price or a sum.")
    _refuse_more_than_lines(credited, taken)
    lines = [_written(credited, piece, taken[piece.line]) for piece in pieces]
    wanted = _wanted(credited, taken)
    lines += _fitted(credited, lines, wanted, ())
    rows = {pair: _split(credited, pair, minor) for pair, minor in wanted.items()}
    if rows == {pair: row for pair, row in credited.left.items() if any(row)}:
        return whole(credited)
    return CreditNote(
        content=_content(credited.content, lines),
        totals=_totals(credited, rows, lines),
        lines=taken,
        takes_all=False,
    )


def _minor_of(credited: Credited, piece: Piece) -> int:
    line = credited.content.lines[piece.line]
    if piece.amount_minor:
        return piece.amount_minor
    if piece.new_price_minor is not None:
        off = line.unit_price_minor - piece.new_price_minor
        if off <= 0:
            raise CreditError(
                f"“{line.description}”: the right price is not lower than what was "
                "billed. What is dearer goes on a new invoice."
            )
        return round_minor(off * Fraction(line.quantity), 0)
    if not 0 < piece.quantity_thousandths <= line.quantity_thousandths:
        raise CreditError(
            f"“{line.description}”: {plain_number(line.quantity)} were billed; take "
            "back as many at most."
        )
    quantity = Fraction(piece.quantity_thousandths, 1000)
    minor = round_minor(line.unit_price_minor * quantity, 0)
    left = credited.lines_left[piece.line]
    return left if minor == left + 1 else minor  # parts of one are rounded each


def _refuse_more_than_lines(credited: Credited, taken: Mapping[int, int]) -> None:
    left = credited.lines_left
    for place, minor in taken.items():
        line = credited.content.lines[place]
        if minor > left[place]:
            most = _words(max(left[place], 0), credited)
            raise CreditError(
                f"“{line.description}”: {most} is left of it to take back, not "
                f"{_words(minor, credited)}."
            )


def _written(credited: Credited, piece: Piece, minor: int) -> ContentLine:
    """Return the line of the credit note for a piece that comes to `minor`."""
    line = credited.content.lines[piece.line]
    if piece.quantity_thousandths:
        return replace(line, quantity_thousandths=piece.quantity_thousandths)
    if piece.new_price_minor is not None:
        was, now = line.unit_price_minor, piece.new_price_minor
        words = f"price {_words(was, credited)}, right {_words(now, credited)}"
        return replace(line, detail=words, unit_price_minor=was - now)
    if minor == credited.line_sums[piece.line]:
        return line
    return replace(
        line,
        detail="",
        unit="",
        quantity_thousandths=1000 if minor > 0 else -1000,
        unit_price_minor=abs(minor),
    )


def _wanted(credited: Credited, taken: Mapping[int, int]) -> dict[Pair, int]:
    """Return what is taken back in each pair, on the basis of the prices."""
    sums: dict[Pair, int] = {}
    for place, minor in taken.items():
        pair = pair_of(credited.content.lines[place])
        sums[pair] = sums.get(pair, 0) + minor
    found = {}
    for pair, minor in sums.items():
        discount, of_lines = credited.discount_on(pair)
        share = round_minor(Fraction(discount * minor, of_lines or 1), 0)
        found[pair] = _within(credited, pair, minor - share, taken, discount)
    return found


def _within(
    credited: Credited,
    pair: Pair,
    minor: int,
    taken: Mapping[int, int],
    discount: int,
) -> int:
    """Return `minor` where so much is left; a discount's rounding goes to the last."""
    left = credited.left_on_paper.get(pair, 0)
    slack = len(credited.content.lines) + len(credited.before) if discount else 0
    after = [
        rest - taken.get(place, 0)
        for place, rest in enumerate(credited.lines_left)
        if pair_of(credited.content.lines[place]) == pair
    ]
    if abs(minor - left) <= slack and (minor > left or not any(after)):
        return left
    if minor > left:
        said = _words(max(left, 0), credited)
        at = f" at {plain_number(pair[1])}%" if pair[1] else ""
        raise CreditError(
            f"Only {said} is left to take back{at}, not {_words(minor, credited)}. "
            "What an earlier invoice billed is taken back from that one."
        )
    return minor


def _split(credited: Credited, pair: Pair, minor: int) -> Row:
    """Return taxable sum and tax of what is taken: what is left is taxed afresh."""
    taxable, tax = credited.left[pair]
    basis = credited.content.price_basis
    rest = (taxable + tax if basis == "gross" else taxable) - minor
    if rest == 0:
        return taxable, tax
    kept = tax_minor(taxed=rest, pair=pair, price_basis=basis)
    off = min(max(tax - kept, 0), tax, minor)
    return (minor - off if basis == "gross" else minor), off


def _fitted(
    credited: Credited,
    lines: Iterable[ContentLine],
    wanted: Mapping[Pair, int],
    deductions: Iterable[object],
) -> list[ContentLine]:
    """Return the lines by which discounts lower what the lines come to."""
    sums = dict.fromkeys(wanted, 0)
    alone = _content(credited.content, lines)
    for one in parts_of(alone.document()).lines:
        sums[one.pair] = sums.get(one.pair, 0) + one.minor
    if deductions:
        for pair, minor in credited.deducted.items():
            sums[pair] = sums.get(pair, 0) - minor
    over = {pair: minor - wanted.get(pair, 0) for pair, minor in sums.items()}
    return [_off(pair, minor) for pair, minor in over.items() if minor]


def _off(pair: Pair, minor: int) -> ContentLine:
    return ContentLine(
        description="Discount on it" if minor > ROUNDING else "Rounding",
        quantity_thousandths=-1000 if minor > 0 else 1000,
        unit_price_minor=abs(minor),
        tax_rate_basis_points=int(pair[1] * 100),
        treatment="" if pair[1] else pair[0],
    )


def _content(of: Content, lines: Iterable[ContentLine]) -> Content:
    return Content(
        currency=of.currency,
        price_basis=of.price_basis,
        lines=tuple(lines),
        reference=of.reference,
        treatment=of.treatment,
    )


def _totals(
    credited: Credited, rows: Mapping[Pair, Row], lines: Iterable[ContentLine]
) -> Totals:
    alone = _content(credited.content, lines)
    parts = parts_of(alone.document())
    return totals_from_minor(
        line_minors=[one.minor for one in parts.lines],
        allowance_minor=0,
        charge_minor=0,
        rows={pair: row for pair, row in rows.items() if any(row)},
        owed_minor=0,
        digits=exponent(alone.currency),
    )


def _words(minor: int, credited: Credited) -> str:
    return money_words(Money.from_minor(minor, credited.content.currency))
