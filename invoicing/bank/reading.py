"""Statement lines out of a CSV or an ISO 20022 camt.053 file, as plain values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final
from xml.etree.ElementTree import Element, ParseError

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring

from studio.forms.money import AmountError
from studio.money import Money
from studio.tables import (
    MOST_BYTES,
    DateOrder,
    Table,
    UnreadableTableError,
    guess_column,
    guess_order,
    is_amount,
    read_date,
    read_signed,
)

DAY_WORDS: Final = (
    "booking date",
    "transaction date",
    "posted",
    "date",
    "day",
    "datum",
)
AMOUNT_WORDS: Final = ("amount", "value", "betrag", "sum")
IN_WORDS: Final = ("paid in", "money in", "credit", "receipts", "in ")
OUT_WORDS: Final = ("paid out", "money out", "debit", "payments", "out ")
PARTY_WORDS: Final = ("counter party", "counterparty", "payee", "name", "merchant")
TEXT_WORDS: Final = ("reference", "description", "details", "narrative", "memo", "text")


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementLine:
    """One line of an account: above zero money came in, below zero it went out."""

    booked_on: date
    amount_minor: int
    party: str
    text: str
    bank_id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Which column says what: one signed amount, or one for each direction."""

    booked_on: int
    amount: int | None
    money_in: int | None
    money_out: int | None
    party: int | None
    text: int | None
    order: DateOrder


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that cannot be read, by its place in the table, and why."""

    place: int
    why: str


def guess_columns(table: Table, currency: str) -> Columns:
    """Return what the columns seem to mean, by their names and what is in them."""
    booked_on = guess_column(table.head, DAY_WORDS) or 0
    amount = guess_column(table.head, AMOUNT_WORDS)
    if amount is not None and not _holds_amounts(table, amount, currency):
        amount = None
    money_in = money_out = None
    if amount is None:
        money_in = guess_column(table.head, IN_WORDS)
        money_out = guess_column(table.head, OUT_WORDS)
    return Columns(
        booked_on=booked_on,
        amount=amount,
        money_in=money_in,
        money_out=money_out,
        party=guess_column(table.head, PARTY_WORDS),
        text=guess_column(table.head, TEXT_WORDS),
        order=guess_order(table.column(booked_on)),
    )


def read_lines(
    table: Table, columns: Columns, currency: str
) -> tuple[list[StatementLine], list[BadRow]]:
    """Return the lines of a table, and the rows that cannot be read."""
    lines: list[StatementLine] = []
    bad: list[BadRow] = []
    for place, row in enumerate(table.rows, start=1):
        try:
            lines.append(_line(row, columns, currency))
        except ValueError as fault:
            bad.append(BadRow(place, str(fault)))
    return lines, bad


def read_camt(content: bytes, currency: str) -> list[StatementLine]:
    """Return the booked lines of an ISO 20022 camt.053 statement, any version of it.

    A batch is one line, as the account shows it. Raises UnreadableTableError.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableTableError("The file is larger than 2 MB. Send a shorter time.")
    try:
        root = fromstring(content, forbid_dtd=True)
    except (ParseError, DefusedXmlException, ValueError) as fault:
        raise UnreadableTableError("The file is no readable XML.") from fault
    for element in root.iter():
        element.tag = str(element.tag).rpartition("}")[2]
    if root.find("BkToCstmrStmt") is None:
        raise UnreadableTableError("The file is no account statement (camt.053).")
    lines = [_entry(entry, currency) for entry in _booked(root)]
    if not lines:
        raise UnreadableTableError("The statement has no booked line.")
    return lines


def _holds_amounts(table: Table, place: int, currency: str) -> bool:
    cells = table.column(place)
    return bool(cells) and all(is_amount(cell, currency) for cell in cells[:50])


def _line(row: tuple[str, ...], columns: Columns, currency: str) -> StatementLine:
    written = row[columns.booked_on]
    booked_on = read_date(written, columns.order)
    if booked_on is None:
        raise ValueError(f"“{written}” is no day.")
    return StatementLine(
        booked_on=booked_on,
        amount_minor=_minor(row, columns, currency),
        party=_cell(row, columns.party)[:140],
        text=_cell(row, columns.text)[:280],
    )


def _minor(row: tuple[str, ...], columns: Columns, currency: str) -> int:
    if columns.amount is not None:
        amount = _amount(row[columns.amount], currency)
    else:
        came = _cell(row, columns.money_in)
        went = _cell(row, columns.money_out)
        amount = abs(_amount(came, currency)) if came else Decimal(0)
        amount -= abs(_amount(went, currency)) if went else Decimal(0)
    if not amount:
        raise ValueError("No money moves.")
    return Money(amount, currency).minor


def _amount(written: str, currency: str) -> Decimal:
    try:
        return read_signed(written, currency)
    except AmountError as fault:
        raise ValueError(f"“{written}” is no amount.") from fault


def _cell(row: tuple[str, ...], place: int | None) -> str:
    return "" if place is None else row[place]


def _booked(root: Any) -> Iterator[Any]:
    for entry in root.iter("Ntry"):
        status = entry.find("Sts")
        said = "" if status is None else (status.findtext("Cd") or status.text or "")
        if said.strip() in ("", "BOOK"):
            yield entry


def _entry(entry: Any, currency: str) -> StatementLine:
    amount = entry.find("Amt")
    if amount is None or amount.get("Ccy") != currency:
        raise UnreadableTableError(f"A line of the statement is not in {currency}.")
    is_credit = (entry.findtext("CdtDbtInd") or "").strip() == "CRDT"
    if (entry.findtext("RvslInd") or "").strip() == "true":
        is_credit = not is_credit
    minor = Money(_amount(amount.text or "", currency), currency).minor
    booked_on = _camt_day(entry)
    return StatementLine(
        booked_on=booked_on,
        amount_minor=minor if is_credit else -minor,
        party=_camt_party(entry, is_credit=is_credit)[:140],
        text=_camt_text(entry)[:280],
        bank_id=(entry.findtext("AcctSvcrRef") or "").strip()[:80],
    )


def _camt_day(entry: Element) -> date:
    for path in ("BookgDt/Dt", "BookgDt/DtTm", "ValDt/Dt", "ValDt/DtTm"):
        if written := entry.findtext(path):
            found = read_date(written, DateOrder.YEAR_FIRST)
            if found:
                return found
    raise UnreadableTableError("A line of the statement has no day.")


def _camt_party(entry: Element, *, is_credit: bool) -> str:
    side = "Dbtr" if is_credit else "Cdtr"
    for details in entry.iter("RltdPties"):
        for path in (f"{side}/Nm", f"{side}/Pty/Nm"):
            if name := details.findtext(path):
                return name.strip()
    return ""


def _camt_text(entry: Element) -> str:
    said = [ref.text or "" for ref in entry.iter("Ref")]
    said += [one.text or "" for one in entry.iter("Ustrd")]
    said += [
        one.text or "" for one in entry.iter("EndToEndId") if one.text != "NOTPROVIDED"
    ]
    if not any(said):
        said.append(entry.findtext("AddtlNtryInf") or "")
    return " ".join(part.strip() for part in said if part.strip())
