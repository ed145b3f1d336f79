"""What became of the quotes that went out: won and lost, and how soon."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from statistics import median
from typing import Final
from zoneinfo import ZoneInfo

from django.db.models import Q

from invoicing.quotes.models import Quote
from invoicing.quotes.snapshots import Snapshot, content_of, packages_of
from invoicing.quotes.states import QuoteState
from jobs.jobs.choices import LostReason, Source
from jobs.jobs.states import JobStage
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import plain_number

WON, LOST, LAPSED, OPEN = "won", "lost", "lapsed", "open"
_BY_STATE: Final = {
    QuoteState.ACCEPTED: WON,
    QuoteState.DECLINED: LOST,
    QuoteState.LAPSED: LAPSED,
}
_LONGEST: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """All versions of one quote as one offer, by the last that went out.

    Its value is what was agreed, else what was offered; with the cheapest package,
    where the client had a choice.
    """

    number: str
    sent_on: date
    outcome: str
    value_minor: int
    what: str
    source: str
    reason: str
    days_to_yes: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Offers of one sort: how many, what became of them, what they were worth."""

    label: str
    offers: int
    won: int
    lost: int
    lapsed: int
    open: int
    won_value: Money
    missed_value: Money
    days: str

    @property
    def share(self) -> str:
        """How many of those decided were won, in percent."""
        decided = self.offers - self.open
        return f"{round(100 * self.won / decided)}%" if decided else "–"

    @property
    def missed(self) -> int:
        """How many were lost or lapsed."""
        return self.lost + self.lapsed

    @property
    def won_width(self) -> int:
        """How long the drawing's part for those won is, of 100."""
        return round(100 * self.won / self.offers) if self.offers else 0

    @property
    def decided_width(self) -> int:
        """How far the drawing's parts for those decided reach, of 100."""
        return round(100 * (self.won + self.missed) / self.offers) if self.offers else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcomes:
    """What became of the offers of a span, in all and sorted in three ways."""

    total: Tally
    by_month: tuple[Tally, ...]
    by_what: tuple[Tally, ...]
    by_source: tuple[Tally, ...]
    reasons: tuple[tuple[str, int], ...]


def outcomes(*, since: datetime) -> Outcomes:
    """Return what became of the quotes first sent since then. One query."""
    profile = StudioProfile.load()
    found = offers_of(since, currency=profile.currency)
    by_month = _sorted_by(found, lambda one: f"{one.sent_on:%Y-%m}", profile.currency)
    return Outcomes(
        total=tally("In all", found, profile.currency),
        by_month=tuple(
            replace(one, label=f"{date.fromisoformat(f'{one.label}-01'):%B %Y}")
            for one in reversed(by_month)
        ),
        by_what=_largest_first(
            _sorted_by(found, lambda one: one.what, profile.currency)
        ),
        by_source=_largest_first(
            _sorted_by(found, lambda one: one.source, profile.currency)
        ),
        reasons=_reasons(found),
    )


def offers_of(since: datetime, *, currency: str) -> list[Offer]:
    """Return each quote first sent since then as one offer, the oldest first."""
    sent = Quote.objects.filter(Q(sent_at__isnull=False) & Q(currency=currency))
    rows = sent.select_related("job", "acceptance").order_by("number", "version")
    by_number: dict[str, list[Quote]] = {}
    for quote in rows:
        by_number.setdefault(quote.number, []).append(quote)
    zone = StudioProfile.load().zone
    offers = [
        _offer(versions, first.astimezone(zone).date(), zone)
        for versions in by_number.values()
        if (first := versions[0].sent_at) and first >= since
    ]
    return sorted(offers, key=lambda one: (one.sent_on, one.number))


def tally(label: str, offers: Iterable[Offer], currency: str) -> Tally:
    """Count offers and add up what they are worth."""
    listed = list(offers)
    many = dict.fromkeys((WON, LOST, LAPSED, OPEN), 0)
    worth = dict(many)
    for one in listed:
        many[one.outcome] += 1
        worth[one.outcome] += one.value_minor
    days = [one.days_to_yes for one in listed if one.days_to_yes is not None]
    return Tally(
        label=label,
        offers=len(listed),
        won=many[WON],
        lost=many[LOST],
        lapsed=many[LAPSED],
        open=many[OPEN],
        won_value=Money.from_minor(worth[WON], currency),
        missed_value=Money.from_minor(worth[LOST] + worth[LAPSED], currency),
        days=_days(days),
    )


def _offer(versions: list[Quote], sent_on: date, zone: ZoneInfo) -> Offer:
    last = versions[-1]
    outcome = _BY_STATE.get(QuoteState(last.state), OPEN)
    if outcome != WON and last.job.stage == JobStage.LOST:
        outcome = LOST
    won = outcome == WON
    snapshot: Snapshot = last.snapshot or {}
    local = last.acceptance.accepted_at if won else None
    reason = last.decline_reason or last.job.lost_reason
    return Offer(
        number=last.number,
        sent_on=sent_on,
        outcome=outcome,
        value_minor=last.acceptance.total_minor if won else snapshot["total_minor"],
        what=_what(last, snapshot),
        source=dict(Source.choices).get(last.job.source, "Not known"),
        reason=dict(LostReason.choices).get(reason, "Not said"),
        days_to_yes=(local.astimezone(zone).date() - sent_on).days if local else None,
    )


def _what(quote: Quote, snapshot: Snapshot) -> str:
    if quote.state == QuoteState.ACCEPTED:
        return quote.acceptance.agreed_content().lines[0].description[:_LONGEST]
    packages = [line for one in packages_of(snapshot) for line in one.lines]
    lines = [*content_of(snapshot).lines, *packages]
    return lines[0].description[:_LONGEST]


def _sorted_by(
    offers: Iterable[Offer], key: Callable[[Offer], str], currency: str
) -> list[Tally]:
    groups: dict[str, list[Offer]] = {}
    for one in offers:
        groups.setdefault(key(one), []).append(one)
    return [tally(label, groups[label], currency) for label in sorted(groups)]


def _largest_first(tallies: Iterable[Tally]) -> tuple[Tally, ...]:
    return tuple(sorted(tallies, key=lambda one: (-one.offers, one.label)))


def _reasons(offers: Iterable[Offer]) -> tuple[tuple[str, int], ...]:
    counted = Counter(one.reason for one in offers if one.outcome == LOST)
    return tuple(sorted(counted.items(), key=lambda row: (-row[1], row[0])))


def _days(days: list[int]) -> str:
    if not days:
        return "–"
    return plain_number(Decimal(str(median(days))))
