"""An issued paper as it is printed: every figure and date worked out as text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.pay_codes import in_fours, modules_of
from invoicing.invoices.snapshots import seller_foot, seller_lines
from invoicing.invoices.states import Purpose, Series
from invoicing.invoices.treatments import SHORT
from studio.countries import country_in, country_name
from studio.money import Money
from studio.wording import long_date, money_words, plain_number

Pairs = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedLine:
    """One line of the printed paper."""

    title: str
    detail: str
    quantity: str
    price: str
    rate: str
    amount: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedInvoice:
    """All that the printed paper says; nothing is worked out while printing."""

    kind: str
    number: str
    seller_name: str
    seller_lines: tuple[str, ...]
    buyer_lines: tuple[str, ...]
    dates: Pairs
    subject: str
    lines: tuple[PrintedLine, ...]
    shows_tax: bool
    sums: Pairs
    total: tuple[str, str]
    tax_rows: tuple[tuple[str, str, str], ...]
    pay: Pairs
    note: str
    foot: str
    tax_words: tuple[str, ...] = ()
    scan: tuple[tuple[bool, ...], ...] = ()


def printed_invoice(snapshot: Mapping[str, Any]) -> PrintedInvoice:
    """Return what an issued paper prints, from its frozen snapshot alone."""
    content = Content.from_json(snapshot["content"])
    seller = snapshot["seller"]
    taxed = bool(seller["tax_registered"])
    return PrintedInvoice(
        kind=_kind(snapshot, taxed=taxed),
        number=snapshot["number"],
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        buyer_lines=_buyer_lines(snapshot, taxed=taxed),
        dates=_dates(snapshot),
        subject=_subject(snapshot),
        lines=_lines(content, snapshot["totals"]),
        shows_tax=taxed,
        sums=_sums(content, snapshot, taxed=taxed),
        total=_total(content, snapshot),
        tax_rows=_tax_rows(content, snapshot["totals"]) if taxed else (),
        pay=_pay(snapshot),
        note=snapshot["note"],
        foot=seller_foot(seller),
        tax_words=tuple(snapshot.get("tax_words", {}).values()),
        scan=modules_of(code) if (code := snapshot.get("payment_code")) else (),
    )


def _kind(snapshot: Mapping[str, Any], *, taxed: bool) -> str:
    if snapshot["series"] == Series.CREDIT_NOTE:
        return "Credit note"
    if snapshot["purpose"] == Purpose.DEPOSIT:
        return "Deposit invoice"
    if snapshot["purpose"] == Purpose.STAGE:
        return "Stage invoice"
    if snapshot["purpose"] == Purpose.CHARGE:
        return "Invoice for late payment"
    if snapshot.get("simplified"):
        return "Simplified invoice"
    return "Tax invoice" if taxed else "Invoice"


def _buyer_lines(snapshot: Mapping[str, Any], *, taxed: bool) -> tuple[str, ...]:
    buyer = snapshot["buyer"]
    if snapshot.get("simplified"):
        return (buyer["name"].strip(),)
    shows_number = buyer["tax_number"] and (taxed or _is_old(snapshot))
    number = f"Tax no. {buyer['tax_number']}" if shows_number else ""
    lines = [buyer["name"], buyer["contact_name"], *buyer["address"].splitlines()]
    lines += [_country_abroad(snapshot), number]
    return tuple(line.strip() for line in lines if line.strip())


def _country_abroad(snapshot: Mapping[str, Any]) -> str:
    """Return the client's country where it is another and the address lacks it."""
    country = snapshot["buyer"].get("country", "")
    address = snapshot["buyer"]["address"]
    if not country or country == snapshot["seller"].get("country"):
        return ""
    return "" if country_in(address) == country else country_name(country)


def _is_old(snapshot: Mapping[str, Any]) -> bool:
    return int(snapshot.get("format", 1)) < 2


def _dates(snapshot: Mapping[str, Any]) -> Pairs:
    issued = date.fromisoformat(snapshot["issued_on"])
    pairs = [("Date", long_date(issued))]
    tax_point = date.fromisoformat(snapshot["tax_point_on"])
    if snapshot["seller"]["tax_registered"] and tax_point != issued:
        pairs.append(("Tax point", long_date(tax_point)))
    if snapshot["series"] == Series.INVOICE:
        pairs.append(
            ("Please pay by", long_date(date.fromisoformat(snapshot["due_on"])))
        )
    return tuple(pairs)


def _subject(snapshot: Mapping[str, Any]) -> str:
    job = snapshot["job"]
    subject = f"{job['title']} ({job['number']})"
    if reference := snapshot["content"]["reference"]:
        subject += f", as agreed in {reference}"
    if corrects := snapshot["corrects"]:
        issued = long_date(date.fromisoformat(corrects["issued_on"]))
        does = "Takes back" if _takes_all(snapshot) else "Corrects"
        subject += f". {does} invoice {corrects['number']} of {issued}"
    return subject + "."


def _takes_all(snapshot: Mapping[str, Any]) -> bool:
    return _is_old(snapshot) or bool(snapshot.get("takes_all"))


def _rate_words(line: ContentLine) -> str:
    return SHORT.get(line.treatment, f"{plain_number(line.rate)}%")


def _lines(content: Content, totals: Mapping[str, Any]) -> tuple[PrintedLine, ...]:
    full = content.full_totals()
    pairs = zip(content.lines, full.line_nets, strict=True)
    return tuple(
        PrintedLine(
            title=line.description,
            detail=line.detail,
            quantity=f"{plain_number(line.quantity)} {line.unit}".strip(),
            price=_minor(line.unit_price_minor, content.currency),
            rate=_rate_words(line),
            amount=_words(net, content.currency),
        )
        for line, net in pairs
    )


def _sums(content: Content, snapshot: Mapping[str, Any], *, taxed: bool) -> Pairs:
    totals, currency = snapshot["totals"], content.currency
    full = content.full_totals()
    rows: list[tuple[str, str]] = []
    if full.allowance_total:
        rows.append(("Discount", f"−{_words(full.allowance_total, currency)}"))
    if content.deductions:
        rows.append(("Agreed sum", _words(full.gross, currency)))
        rows += _deposit_rows(content)
    if taxed:
        name = snapshot["seller"]["tax_name"]
        net, tax = (_words(Decimal(totals[key]), currency) for key in ("net", "tax"))
        rows += [(f"Before {name}", net), (name, tax)]
    return tuple(rows)


def _deposit_rows(content: Content) -> list[tuple[str, str]]:
    by_words: dict[str, int] = {}
    for row in content.deductions:
        sum_minor = row.taxable_minor + row.tax_minor
        by_words[row.words] = by_words.get(row.words, 0) + sum_minor
    return [
        (words, f"−{_minor(minor, content.currency)}")
        for words, minor in by_words.items()
    ]


def _total(content: Content, snapshot: Mapping[str, Any]) -> tuple[str, str]:
    gross = _words(Decimal(snapshot["totals"]["gross"]), content.currency)
    if snapshot["series"] == Series.CREDIT_NOTE:
        return "Credited", gross
    return "To pay" if content.deductions else "Total", gross


def _tax_rows(
    content: Content, totals: Mapping[str, Any]
) -> tuple[tuple[str, str, str], ...]:
    named = {line.treatment for line in content.lines}
    return tuple(
        (
            _row_name(row, is_named=row["category"] in named),
            _words(Decimal(row["taxable"]), content.currency),
            _words(Decimal(row["tax"]), content.currency),
        )
        for row in totals["breakdown"]
    )


def _row_name(row: Mapping[str, Any], *, is_named: bool) -> str:
    rate = f"{plain_number(Decimal(row['rate']))}%"
    return SHORT.get(row["category"], rate) if is_named else rate


def _pay(snapshot: Mapping[str, Any]) -> Pairs:
    if snapshot["series"] == Series.CREDIT_NOTE:
        return ()
    seller = snapshot["seller"]
    structured = in_fours(snapshot.get("creditor_reference", ""))
    pairs = (
        ("Account name", seller["account_name"]),
        ("Sort code", seller["sort_code"]),
        ("Account number", seller["account_number"]),
        ("IBAN", seller["iban"]),
        ("BIC", seller["bic"]),
        ("Reference", structured or snapshot["number"]),
    )
    return tuple((label, value) for label, value in pairs if value)


def _words(amount: Decimal, currency: str) -> str:
    return money_words(Money(amount, currency))


def _minor(minor: int, currency: str) -> str:
    return money_words(Money.from_minor(minor, currency))
