"""Deposits: how one is divided over the rates, and what is left after them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from invoicing.tax.model import BreakdownRow, Document, Line, Pair, Totals, plain_rate
from invoicing.tax.sums import totals, totals_from_minor
from studio.money import allocate, decimal_from_minor, exact_figure


def balance_after_deposits(
    *, full: Totals | Document, deposits: Sequence[Totals | Document]
) -> Totals:
    """Work out the totals of the invoice that follows the invoices for deposits.

    Per category and rate: the full figure minus what was invoiced. Tax is subtracted,
    never worked out afresh, so that all documents of one order add up to the cent.
    `line_nets` are the full lines, then one negative figure per row of each deposit;
    allowances and charges are those of the full document. What was prepaid without an
    invoice stays taken off the sum due.
    Errors: ValueError for documents of different currencies.
    Source: subtraction; an advance is taxed when it is received (Directive
    2006/112/EC, article 65).
    """
    _refuse_mixed_currencies([full, *deposits])
    whole, paid = _figures(full), [_figures(deposit) for deposit in deposits]
    digits = max(_digits(one) for one in (whole, *paid))
    rows = _minor_rows(whole, digits)
    lines = [_minor(net, digits) for net in whole.line_nets]
    with_tax = _lines_include_tax(whole)
    for deposit in paid:
        for pair, (taxable, tax) in _minor_rows(deposit, digits).items():
            before = rows.get(pair, (0, 0))
            rows[pair] = before[0] - taxable, before[1] - tax
            lines.append(-taxable - tax if with_tax else -taxable)
    return totals_from_minor(
        line_minors=lines,
        allowance_minor=_minor(whole.allowance_total, digits),
        charge_minor=_minor(whole.charge_total, digits),
        rows=rows,
        owed_minor=_minor(whole.due, digits) - _minor(whole.gross, digits),
        digits=digits,
    )


def deposit_split(*, full: Totals, deposit_gross: Decimal) -> tuple[Line, ...]:
    """Divide a deposit over the rates of an order, as lines of gross prices.

    One line per category and rate that has a share, by gross share and largest
    remainder; the lines belong in a Document of price basis "gross". For a second
    deposit give the balance after the first as `full`.
    Errors: ValueError for a deposit that is not above 0, exceeds the gross of the
    order, or is finer than its currency.
    """
    digits = _digits(full)
    exact = exact_figure(deposit_gross, "deposit_gross")
    if not 0 < exact <= Fraction(full.gross):
        raise ValueError(f"deposit_gross {deposit_gross} is not within {full.gross}")
    rows = _minor_rows(full, digits)
    weights = [taxable + tax for taxable, tax in rows.values()]
    shares = allocate(_minor(deposit_gross, digits), weights)
    return tuple(
        Line(
            quantity=Decimal(1 if share > 0 else -1),
            unit_price=decimal_from_minor(abs(share), digits),
            category=category,
            rate=rate,
        )
        for (category, rate), share in zip(rows, shares, strict=True)
        if share
    )


def _figures(source: Totals | Document) -> Totals:
    return totals(source) if isinstance(source, Document) else source


def _refuse_mixed_currencies(sources: Sequence[Totals | Document]) -> None:
    named = {one.currency for one in sources if isinstance(one, Document)}
    if len(named) > 1:
        raise ValueError(f"documents in {' and '.join(sorted(named))} do not add up")


def _lines_include_tax(figures: Totals) -> bool:
    lines, charges = Fraction(figures.line_total), Fraction(figures.charge_total)
    taxed = lines + charges - Fraction(figures.allowance_total)
    return taxed == figures.gross != figures.net


def _digits(figures: Totals) -> int:
    sums = [row.taxable for row in figures.breakdown]
    exponents = [one.as_tuple().exponent for one in (figures.gross, *sums)]
    return max(0, *(-one for one in exponents if isinstance(one, int)))


def _minor(amount: Decimal, digits: int) -> int:
    minor = exact_figure(amount, "the amount") * Fraction(10) ** digits
    if minor.denominator != 1:
        raise ValueError(f"{amount} has more than {digits} decimals")
    return minor.numerator


def _minor_rows(figures: Totals, digits: int) -> dict[Pair, tuple[int, int]]:
    return {_pair(row): _minor_pair(row, digits) for row in figures.breakdown}


def _pair(row: BreakdownRow) -> Pair:
    return row.category, plain_rate(row.rate)


def _minor_pair(row: BreakdownRow, digits: int) -> tuple[int, int]:
    return _minor(row.taxable, digits), _minor(row.tax, digits)
