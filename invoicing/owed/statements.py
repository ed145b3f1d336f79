"""A client's statement between two days, as it is shown, printed and sent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from invoicing.books.queries import account_facts, currencies_of
from invoicing.invoices.late import BUCKETS
from invoicing.invoices.snapshots import buyer_of, seller_foot, seller_lines, seller_of
from invoicing.owed.aged import ages_on
from invoicing.owed.ageing import Account, account
from invoicing.owed.shown import ShownLine, account_lines
from jobs.clients.models import Client
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import day_year, long_date, money_words


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountPart:
    """One currency of a statement: opening balance, what happened, closing balance;
    and how old what is owed is.
    """

    currency: str
    opening: Money
    lines: tuple[ShownLine, ...]
    closing: Money
    ages: tuple[tuple[str, Money], ...]
    apart: Money

    @property
    def is_empty(self) -> bool:
        """Whether nothing stood open and nothing happened."""
        return not (self.lines or self.opening.minor or self.ages or self.apart.minor)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """A client's account between two days, a part for each currency."""

    client: Client
    first: date
    last: date
    parts: tuple[AccountPart, ...]

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
class PrintedPart:
    """What a statement prints for one currency; one alone has no name."""

    name: str
    rows: tuple[tuple[str, str, str, str], ...]
    ages: tuple[tuple[str, str], ...]
    total: tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStatement:
    """All that a printed statement says."""

    seller_name: str
    seller_lines: tuple[str, ...]
    client_lines: tuple[str, ...]
    span: str
    parts: tuple[PrintedPart, ...]
    foot: str


def statement_of(client: Client, *, first: date, last: date) -> Statement:
    """Return a client's statement; its closing balances are those of the ageing."""
    own = StudioProfile.load().currency
    parts = [
        _part(client, currency, first=first, last=last)
        for currency in currencies_of(own)
    ]
    filled = tuple(part for part in parts if not part.is_empty)
    return Statement(
        client=client, first=first, last=last, parts=filled or tuple(parts[:1])
    )


def _part(client: Client, currency: str, *, first: date, last: date) -> AccountPart:
    facts = account_facts(currency, client)
    found: Account = account(facts, client.kept_id, first=first, last=last)
    mine = [one for one in ages_on(currency, last) if one.client_id == client.kept_id]
    sums = mine[0].buckets if mine else (0,) * len(BUCKETS)
    apart = mine[0].apart_minor if mine else 0
    return AccountPart(
        currency=currency,
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
    are_named = len(statement.parts) > 1
    return PrintedStatement(
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        client_lines=tuple(line.strip() for line in lines if line.strip()),
        span=f"{long_date(statement.first)} to {long_date(statement.last)}",
        parts=tuple(
            _printed_part(part, statement.first, f"In {part.currency}" * are_named)
            for part in statement.parts
        ),
        foot=seller_foot(seller),
    )


def statement_words(statement: Statement) -> dict[str, str]:
    """Return to whom and with which words it goes, before anybody edits it."""
    studio = StudioProfile.load().trading_name
    said = " ".join(f"{words}." for words in _standings(statement))
    body = (
        f"Dear {statement.client.addressee},\n\nyour statement from "
        f"{long_date(statement.first)} to {long_date(statement.last)} comes with this "
        f"message. {said}\n\n{studio}\n"
    )
    return {
        "address": statement.client.email,
        "subject": f"Statement to {long_date(statement.last)}",
        "words": body,
    }


def _printed_part(part: AccountPart, first: date, name: str) -> PrintedPart:
    rows = [(day_year(first), "Balance before", "", _words(part.opening))]
    rows += [
        (day_year(line.on), line.what, _words(line.sum), _words(line.balance))
        for line in part.lines
    ]
    found = [(age, _words(sum_)) for age, sum_ in part.ages]
    if part.apart.minor:
        found.append(("In your favour", _words(part.apart)))
    return PrintedPart(
        name=name,
        rows=tuple(rows),
        ages=tuple(found),
        total=(
            "To be paid" if part.closing.minor >= 0 else "In your favour",
            money_words(abs(part.closing)),
        ),
    )


def _standings(statement: Statement) -> list[str]:
    said = []
    for part in statement.parts:
        total = money_words(abs(part.closing))
        if part.closing.minor > 0:
            said.append(f"{total} is open")
        elif part.closing.minor < 0:
            said.append(f"{total} stands in your favour")
    return said or ["Nothing is open"]


def _words(money: Money) -> str:
    return money_words(money, sign=False)
