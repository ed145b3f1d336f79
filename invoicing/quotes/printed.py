"""A quote as it is printed, from its frozen snapshot: every figure as text."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from zoneinfo import ZoneInfo

from invoicing.invoices.content import Content
from invoicing.invoices.snapshots import seller_foot, seller_lines
from invoicing.prices.packages import JOINED
from invoicing.quotes.light_words import QuotedSession, quoted_session
from invoicing.quotes.models import Acceptance, How
from invoicing.quotes.priced import (
    Paying,
    Priced,
    QuotedLine,
    line_amount,
    paying_for_a_choice,
    priced,
)
from invoicing.quotes.snapshots import (
    NOTHING,
    Choice,
    Snapshot,
    content_of,
    extras_of,
    lowest_choice,
    packages_of,
)
from jobs.clients.models import ClientKind
from studio.wording import long_date, money_words


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedExtra:
    """One extra that the client may tick."""

    line: int
    title: str
    detail: str
    price: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedPackage:
    """One of the packages that the client chooses from, and the whole price with it."""

    place: int
    name: str
    lines: tuple[QuotedLine, ...]
    price: Priced

    @property
    def points(self) -> tuple[tuple[str, str], ...]:
        """What is in it, each with its detail.

        A line that is named as the package is told by what its detail lists.
        """
        told: list[tuple[str, str]] = []
        for line in self.lines:
            if line.title == self.name and line.detail:
                told += [(point, "") for point in line.detail.split(JOINED)]
            else:
                count = "" if line.is_one else f", {line.quantity}"
                told.append((f"{line.title}{count}", line.detail))
        return tuple(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedYes:
    """The yes that a copy of an accepted quote carries."""

    name: str
    when: str
    how: str
    content: Content
    package: str
    extras: tuple[str, ...]
    shows_pictures: bool
    code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedQuote:
    """All that a quote says."""

    number: str
    version: int
    seller_name: str
    seller_lines: tuple[str, ...]
    buyer_lines: tuple[str, ...]
    title: str
    quoted_on: str
    valid_until: str
    opening_note: str
    session: QuotedSession | None
    price: Priced
    paying: Paying
    packages: tuple[QuotedPackage, ...]
    extras: tuple[QuotedExtra, ...]
    discount_counts_for_extras: bool
    included: tuple[str, ...]
    moving: str
    weather: str
    withdrawal: str
    terms: str
    pictures_by: str
    has_page: bool
    foot: str
    accepted: PrintedYes | None = None

    @property
    def always(self) -> tuple[QuotedLine, ...]:
        """The lines that come with every package; all lines, where there is none."""
        if not self.packages:
            return self.price.lines
        first = self.packages[0]
        return first.price.lines[: len(first.price.lines) - len(first.lines)]


def printed_quote(
    snapshot: Snapshot, *, accepted: PrintedYes | None = None
) -> PrintedQuote:
    """Return what a quote says, from its frozen snapshot alone.

    A copy with the yes prices what was agreed, extras and all. Where packages are to
    be chosen from, the price is that with the cheapest.
    """
    seller, buyer = snapshot["seller"], snapshot["buyer"]
    content = content_of(snapshot, lowest_choice(snapshot))
    consumer = buyer["kind"] == ClientKind.PERSON
    price = priced(snapshot, accepted.content if accepted else content)
    is_open = bool(packages_of(snapshot)) and not accepted
    return PrintedQuote(
        number=snapshot["number"],
        version=snapshot["version"],
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        buyer_lines=_buyer_lines(snapshot),
        title=snapshot["title"],
        quoted_on=_day(snapshot["quoted_on"]),
        valid_until=_day(snapshot["valid_until_on"]),
        opening_note=snapshot["opening_note"],
        session=quoted_session(snapshot["session"]),
        price=price,
        paying=paying_for_a_choice(snapshot) if is_open else price.paying,
        packages=() if accepted else _packages(snapshot),
        extras=() if accepted else _extras(snapshot),
        discount_counts_for_extras=bool(content.discount_percent_hundredths),
        included=tuple(snapshot["included"]),
        moving=snapshot["moving_words"],
        weather=snapshot["weather_words"],
        withdrawal=snapshot["withdrawal_words"] if consumer else "",
        terms=snapshot["terms"],
        pictures_by=_day(snapshot["pictures_by_on"]),
        has_page=snapshot["has_page"],
        foot=seller_foot(seller),
        accepted=accepted,
    )


def printed_yes(
    snapshot: Snapshot, acceptance: Acceptance, zone: ZoneInfo
) -> PrintedYes:
    """Return the yes to a quote as its paper says it, by the studio's clock."""
    local = acceptance.accepted_at.astimezone(zone)
    agreed = acceptance.agreed_content()
    chosen = acceptance.chosen
    always = (
        replace(Choice.from_json(chosen), extras=frozenset()) if chosen else NOTHING
    )
    taken = agreed.lines[len(content_of(snapshot, always).lines) :]
    how = How(acceptance.how).label
    return PrintedYes(
        name=acceptance.name,
        when=f"{long_date(local.date())} at {local:%H:%M}",
        how=f"{how[0].lower()}{how[1:]}",
        content=agreed,
        package=acceptance.package_name,
        extras=tuple(line.description for line in taken),
        shows_pictures=acceptance.may_show_pictures,
        code=acceptance.accepted_hash[:16],
    )


def _buyer_lines(snapshot: Snapshot) -> tuple[str, ...]:
    buyer = snapshot["buyer"]
    lines = (buyer["name"], buyer["contact_name"], *buyer["address"].splitlines())
    return tuple(line for line in lines if line.strip())


def _packages(snapshot: Snapshot) -> tuple[QuotedPackage, ...]:
    always = len(content_of(snapshot).lines)
    priced_ones = [
        (one, priced(snapshot, content_of(snapshot, Choice(package=one.place))))
        for one in packages_of(snapshot)
    ]
    return tuple(
        QuotedPackage(
            place=one.place, name=one.name, lines=price.lines[always:], price=price
        )
        for one, price in priced_ones
    )


def _extras(snapshot: Snapshot) -> tuple[QuotedExtra, ...]:
    like = content_of(snapshot)
    return tuple(
        QuotedExtra(
            line=pk,
            title=line.description,
            detail=line.detail,
            price=money_words(line_amount(line, like)),
        )
        for pk, line in extras_of(snapshot)
    )


def _day(written: str | None) -> str:
    return long_date(date.fromisoformat(written)) if written else ""
