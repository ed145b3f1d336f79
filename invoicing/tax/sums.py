"""The totals of a document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from invoicing.tax.model import BreakdownRow, Document, Pair, Totals, row_order
from invoicing.tax.parts import Part, parts_of, sums_by_pair, tax_minor
from studio.money import decimal_from_minor, exponent, round_minor


def totals(document: Document) -> Totals:
    """Work out the sums, the tax per category and rate, and what is due.

    Units: decimals of the document's currency. Each part is rounded by itself, half
    away from zero to the ISO 4217 exponent; tax is rounded once per category and rate;
    sums of rounded parts are exact. On a gross basis the gross never moves: tax is
    carved out of it and the taxable sum is what is left.
    Errors: ValueError where a sum without a category cannot be shared.
    Source: EN 16931-1:2017, BR-CO-10, 13, 14, 15, 16, 17; for gross prices, tax on what
    the client pays (Directive 2006/112/EC, articles 73 and 78, from memory).
    """
    digits = exponent(document.currency)
    parts = parts_of(document)
    owed = Fraction(document.rounding) - Fraction(document.prepaid)
    return totals_from_minor(
        line_minors=[part.minor for part in parts.lines],
        allowance_minor=_sum(parts.allowances),
        charge_minor=_sum(parts.charges),
        rows={
            pair: _net_and_tax(taxed, pair, document)
            for pair, taxed in sums_by_pair(parts.signed()).items()
        },
        owed_minor=round_minor(owed, digits),
        digits=digits,
    )


def totals_from_minor(
    *,
    line_minors: Sequence[int],
    allowance_minor: int,
    charge_minor: int,
    rows: Mapping[Pair, tuple[int, int]],
    owed_minor: int,
    digits: int,
) -> Totals:
    """Add up totals from whole minor units.

    `rows` holds (taxable, tax) by category and rate; `owed_minor` is what is due
    beyond the gross: rounding, less what was prepaid.
    """
    net = sum(taxable for taxable, _ in rows.values())
    tax = sum(row_tax for _, row_tax in rows.values())
    return Totals(
        line_nets=tuple(decimal_from_minor(minor, digits) for minor in line_minors),
        line_total=decimal_from_minor(sum(line_minors), digits),
        allowance_total=decimal_from_minor(allowance_minor, digits),
        charge_total=decimal_from_minor(charge_minor, digits),
        net=decimal_from_minor(net, digits),
        tax=decimal_from_minor(tax, digits),
        gross=decimal_from_minor(net + tax, digits),
        due=decimal_from_minor(net + tax + owed_minor, digits),
        breakdown=tuple(
            BreakdownRow(
                category=pair[0],
                rate=pair[1],
                taxable=decimal_from_minor(rows[pair][0], digits),
                tax=decimal_from_minor(rows[pair][1], digits),
            )
            for pair in sorted(rows, key=row_order)
        ),
    )


def _net_and_tax(taxed: int, pair: Pair, document: Document) -> tuple[int, int]:
    tax = tax_minor(taxed=taxed, pair=pair, price_basis=document.price_basis)
    return (taxed if document.price_basis == "net" else taxed - tax), tax


def _sum(parts: Sequence[Part]) -> int:
    return sum(part.minor for part in parts)
