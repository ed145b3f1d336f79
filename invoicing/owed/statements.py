"""A client's statement between two days, as it is shown, printed and sent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from invoicing.books.queries import read_facts
from invoicing.invoices.snapshots import buyer_of, seller_foot, seller_lines, seller_of
from invoicing.owed.ageing import BUCKETS, Account, account, ages
from invoicing.owed.shown import ShownLine, account_lines
from jobs.clients.models import Client
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """Opening balance, what happened, closing balance; and how old what is owed is."""

    client: Client
    first: date
    last: date
    opening: Money
    lines: tuple[ShownLine, ...]
    closing: Money
    ages: tuple[tuple[str, Money], ...]
    apart: Money

    @property
    def query(self) -> str:
        """What asks for the same days again."""
        return urlencode(
            {"first": self.first.isoformat(), "last": self.last.isoformat()}
        )

    @property
    def file_name(self) -> str:
        """The name of its PDF."""
        return f"Statement-{self.client.pk}-{self.last.isoformat()}.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStatement:
    """All that a printed statement says."""

    seller_name: str
    seller_lines: tuple[str, ...]
    client_lines: tuple[str, ...]
    span: str
    rows: tuple[tuple[str, str, str, str], ...]
    ages: tuple[tuple[str, str], ...]
    total: tuple[str, str]
    foot: str


def statement_of(client: Client, *, first: date, last: date) -> Statement:
    """Return a client's statement; its closing balance is that of the ageing."""
    currency = StudioProfile.load().currency
    facts = read_facts(currency)
    found: Account = account(facts, client.kept_id, first=first, last=last)
    mine = [one for one in ages(facts, last) if one.client_id == client.kept_id]
    sums = mine[0].buckets if mine else (0,) * len(BUCKETS)
    apart = mine[0].apart_minor if mine else 0
    return Statement(
        client=client,
        first=first,
        last=last,
        opening=Money.from_minor(found.opening_minor, currency),
        lines=tuple(account_lines(found, currency)),
        closing=Money.from_minor(found.closing_minor, currency),
        ages=tuple(
            (name, Money.from_minor(minor, currency))
            for name, minor in zip(BUCKETS, sums, strict=True)
            if minor
        ),
        apart=Money.from_minor(apart, currency),
    )


def printed_statement(statement: Statement) -> PrintedStatement:
    """Return what a statement prints."""
    seller = seller_of(StudioProfile.load())
    buyer = buyer_of(statement.client)
    lines = [buyer["name"], buyer["contact_name"], *buyer["address"].splitlines()]
    rows = [(_short(statement.first), "Balance before", "", _words(statement.opening))]
    rows += [
        (_short(line.on), line.what, _words(line.sum), _words(line.balance))
        for line in statement.lines
    ]
    found = [(name, _words(sum_)) for name, sum_ in statement.ages]
    if statement.apart.minor:
        found.append(("In your favour", _words(statement.apart)))
    is_owed = statement.closing.minor >= 0
    return PrintedStatement(
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        client_lines=tuple(line.strip() for line in lines if line.strip()),
        span=f"{long_date(statement.first)} to {long_date(statement.last)}",
        rows=tuple(rows),
        ages=tuple(found),
        total=(
            "To be paid" if is_owed else "In your favour",
            money_words(abs(statement.closing)),
        ),
        foot=seller_foot(seller),
    )


def statement_words(statement: Statement) -> dict[str, str]:
    """Return to whom and with which words it goes, before anybody edits it."""
    studio = StudioProfile.load().trading_name
    total = money_words(abs(statement.closing))
    if statement.closing.minor > 0:
        said = f"{total} is open"
    elif statement.closing.minor < 0:
        said = f"{total} stands in your favour"
    else:
        said = "Nothing is open"
    body = (
        f"Dear {statement.client.addressee},\n\nyour statement from "
        f"{long_date(statement.first)} to {long_date(statement.last)} comes with this "
        f"message. {said}.\n\n{studio}\n"
    )
    return {
        "address": statement.client.email,
        "subject": f"Statement to {long_date(statement.last)}",
        "words": body,
    }


def _words(money: Money) -> str:
    return money_words(money, sign=False)


def _short(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
