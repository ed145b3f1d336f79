"""The prices of a quote in words, from its snapshot and what is to be paid for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from invoicing.invoices.content import Content, ContentLine
from invoicing.quotes.snapshots import Snapshot, deposit_of
from invoicing.tax import Totals
from studio.money import Money
from studio.wording import MINUS, money_words, plain_number

NONE: Final = "none"
_COUNTED: Final = (
    *("session", "hour", "day", "mile", "picture", "print", "licence", "page"),
    *("minute", "person", "album", "frame", "set", "file", "kilometre"),
)
_PEOPLE: Final = {"person": "people"}


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedLine:
    """One line of a quote in words."""

    title: str
    detail: str
    quantity: str
    price: str
    amount: str
    is_one: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Paying:
    """When what is paid, in sentences."""

    lead: str
    deposit: str
    rest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """The prices of a quote: its lines, the sums under them, the total."""

    lines: tuple[QuotedLine, ...]
    sums: tuple[tuple[str, str], ...]
    total: str
    total_minor: int
    deposit: str
    deposit_minor: int
    tax_sentence: str
    paying: Paying


def priced(snapshot: Snapshot, content: Content) -> Priced:
    """Return the prices of what is to be paid for, under a snapshot's terms."""
    totals = content.totals()
    total = Money(totals.gross, content.currency)
    deposit = deposit_of(snapshot, total)
    return Priced(
        lines=_lines(content, totals),
        sums=_sums(snapshot, content, totals),
        total=money_words(total),
        total_minor=total.minor,
        deposit=money_words(deposit) if deposit.minor else NONE,
        deposit_minor=deposit.minor,
        tax_sentence=_tax_sentence(snapshot, content, totals),
        paying=_paying(snapshot, total, deposit),
    )


def paying_for_a_choice(snapshot: Snapshot) -> Paying:
    """Return when what is paid while a package is still to be chosen."""
    days, later = snapshot["deposit_days"], snapshot["payment_days"]
    asks = snapshot["deposit_percent"] or snapshot["deposit_fixed_minor"]
    first = "Nothing is to be paid before the session."
    if asks:
        firm = " It makes the date firm." if snapshot["session"] is not None else ""
        first = (
            f"Pay the deposit of the package that you choose {_within(days)}, quoting "
            f"{snapshot['number']}.{firm} An invoice follows."
        )
    what = "The rest" if asks else "The price"
    rest = f"{what} is due {_days(later)} after its invoice, which comes with the "
    return Paying(lead="", deposit=first, rest=f"{rest}pictures.")


def line_amount(line: ContentLine, like: Content) -> Money:
    """Return what a line comes to by itself, at the currency and basis of a content."""
    alone = like.with_lines([line])
    return Money(alone.full_totals().line_total, like.currency)


def counted(quantity: Decimal, unit: str) -> str:
    """Return so many of a unit in words: 8 pictures, 1 session, 2.5 hours."""
    shown = plain_number(quantity)
    if unit in {"", "each"}:
        return shown
    if unit in _COUNTED and quantity != 1:
        unit = _PEOPLE.get(unit, f"{unit}s")
    return f"{shown} {unit}"


def _lines(content: Content, totals: Totals) -> tuple[QuotedLine, ...]:
    currency = content.currency
    return tuple(
        QuotedLine(
            title=line.description,
            detail=line.detail,
            quantity=counted(line.quantity, line.unit),
            price=money_words(Money.from_minor(line.unit_price_minor, currency)),
            amount=money_words(Money(net, currency)),
            is_one=line.quantity == 1,
        )
        for line, net in zip(content.lines, totals.line_nets, strict=True)
    )


def _sums(
    snapshot: Snapshot, content: Content, totals: Totals
) -> tuple[tuple[str, str], ...]:
    currency, seller = content.currency, snapshot["seller"]
    rows: list[tuple[str, str]] = []
    if totals.allowance_total:
        off = money_words(Money(totals.allowance_total, currency))
        rows.append(
            (
                _discount_label(content, snapshot.get("discount_reason", "")),
                f"{MINUS}{off}",
            )
        )
    if seller["tax_registered"] and content.price_basis == "net":
        name = seller["tax_name"]
        rows.append((f"Before {name}", money_words(Money(totals.net, currency))))
        rows += [
            (
                f"{name} at {plain_number(row.rate)}%",
                money_words(Money(row.tax, currency)),
            )
            for row in totals.breakdown
        ]
    return tuple(rows)


def _discount_label(content: Content, reason: str) -> str:
    why = f": {reason}" if reason else ""
    if not content.discount_percent_hundredths:
        return f"Discount{why}"
    percent = Decimal(content.discount_percent_hundredths) / 100
    return f"Discount, {plain_number(percent)}%{why}"


def _tax_sentence(snapshot: Snapshot, content: Content, totals: Totals) -> str:
    seller = snapshot["seller"]
    if not seller["tax_registered"] or content.price_basis == "net":
        return ""
    if not totals.tax:
        return "Nothing comes on top."
    tax = money_words(Money(totals.tax, content.currency))
    return f"{seller['tax_name']} of {tax} is in it. Nothing comes on top."


def _paying(snapshot: Snapshot, total: Money, deposit: Money) -> Paying:
    days, later = snapshot["deposit_days"], snapshot["payment_days"]
    rest = total - deposit
    dated = snapshot["session"] is not None
    at_once = snapshot["yes_confirms"] or not deposit.minor
    if at_once:
        lead = "Your yes makes the date firm." if dated else ""
    else:
        lead = f"{money_words(deposit)} makes the date firm." if dated else ""
    if not deposit.minor:
        first, what = "Nothing is to be paid before the session.", "The price"
    else:
        what = "The rest"
        pencil = "Your yes pencils it in; " if dated and not at_once else ""
        pay = "pay" if pencil else f"Pay the deposit of {money_words(deposit)}"
        first = (
            f"{pencil}{pay} {_within(days)}, quoting {snapshot['number']}. "
            "An invoice follows."
        )
    last = (
        f"{what}, {money_words(rest)}, is due {_days(later)} after its invoice, which "
        "comes with the pictures."
        if rest.minor
        else "That is the whole price."
    )
    return Paying(lead=lead, deposit=first, rest=last)


def _within(days: int) -> str:
    return f"within {_days(days)} of your yes" if days else "on the day of your yes"


def _days(days: int) -> str:
    return f"{days} day" if days == 1 else f"{days} days"
