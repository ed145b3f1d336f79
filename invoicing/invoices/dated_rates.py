"""What a draft says of rates of tax that became others since it was agreed.

Which rate applies is for local law: an agreed rate is told of, and kept until its
owner asks for the one of the day.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from invoicing.invoices.content import STANDARD, Content, ContentLine
from invoicing.prices.rates import DatedRates
from studio.wording import long_date, plain_number


@dataclass(frozen=True, slots=True, kw_only=True)
class OlderRates:
    """A sentence for each line, empty where its rate stands; and whether the rates of
    the day may be used.
    """

    on: date
    remarks: tuple[str, ...]
    may_change: bool


def older_rates(content: Content, rates: DatedRates, on: date) -> OlderRates:
    """Return what is to be said of a draft's rates on the day of its tax point.

    One that takes a deposit or a stage off keeps its rates: that was taxed at them.
    """
    remarks = tuple(_remark(line, rates, on) for line in content.lines)
    is_after = bool(content.deductions)
    if is_after:
        remarks = tuple(one and f"{one} {_AHEAD}" for one in remarks)
    return OlderRates(on=on, remarks=remarks, may_change=any(remarks) and not is_after)


def at_rates_of(
    lines: Iterable[ContentLine], rates: DatedRates, on: date
) -> tuple[ContentLine, ...]:
    """Return lines at the rates of a day; their prices stay as they are."""
    return tuple(
        replace(line, tax_rate_basis_points=rates.on(line.tax_rate_basis_points, on))
        if line.category == STANDARD
        else line
        for line in lines
    )


_AHEAD = "What was invoiced ahead at that rate is taken off here, so the lines keep it."


def _remark(line: ContentLine, rates: DatedRates, on: date) -> str:
    if line.category != STANDARD:
        return ""
    change = rates.last_change(line.tax_rate_basis_points, on)
    if change is None:
        return ""
    was, now = (
        plain_number(Decimal(one) / 100)
        for one in (line.tax_rate_basis_points, change.becomes)
    )
    since = long_date(change.from_on)
    return f"Agreed at {was}%, and kept. Since {since} that rate is {now}%."
