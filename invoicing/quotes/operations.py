"""Writing quotes: drafts, versions, and what becomes of one that is not accepted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import Max

from invoicing.invoices.content import ContentLine
from invoicing.quotes.models import Basis, Quote, QuoteLine
from invoicing.quotes.sessions import SessionWish, session_of, set_session
from invoicing.quotes.states import QuoteState, move
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import DepositKind, StudioProfile
from studio.series.models import SeriesKind
from studio.series.operations import take_number


class QuoteError(DomainError):
    """A quote is not fit for what is asked of it."""


class StaleQuoteError(DomainError):
    """A quote was changed by somebody else meanwhile."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineWish:
    """One line as it was typed; `cost_minor` is the studio's own cost of one."""

    description: str
    unit_price_minor: int
    quantity_thousandths: int = 1000
    detail: str = ""
    unit: str = ""
    tax_rate_basis_points: int = 0
    cost_minor: int = 0
    optional: bool = False
    package: str = ""
    licence_months: int | None = None

    def content(self) -> ContentLine:
        """Return the line as papers and the tax core read it."""
        names = [one.name for one in fields(ContentLine) if hasattr(self, one.name)]
        return ContentLine(**{name: getattr(self, name) for name in names})


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteTerms:
    """What a quote says apart from its lines."""

    valid_until_on: date
    pictures_by_on: date | None = None
    opening_note: str = ""
    included: str = ""
    discount_percent_hundredths: int = 0
    discount_minor: int = 0
    discount_reason: str = ""
    deposit_kind: DepositKind = DepositKind.PERCENT
    deposit_percent: int = 0
    deposit_minor: int = 0
    deposit_days: int = 7
    payment_days: int = 14
    planned_minutes: int = 0
    assistant_cost_minor: int = 0
    travel_cost_minor: int = 0
    other_cost_minor: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteWish:
    """A whole draft as it was typed; without a session it names no date."""

    terms: QuoteTerms
    lines: Sequence[LineWish]
    session: SessionWish | None = None


def blank_quote(job: Job, *, by: Person, at: datetime) -> Quote:
    """Return a quote with the studio's usual terms, not saved."""
    profile = StudioProfile.load()
    today = at.astimezone(profile.zone).date()
    gross = job.client.sees_tax_inclusive_prices
    return Quote(
        job=job,
        booking=session_of(job),
        drafted_by=by,
        drafted_at=at,
        currency=profile.currency,
        price_basis=Basis.GROSS if gross else Basis.NET,
        valid_until_on=today + timedelta(days=profile.quote_days),
        deposit_kind=profile.deposit_kind,
        deposit_percent=profile.deposit_percent,
        deposit_minor=profile.deposit_minor,
        deposit_days=profile.deposit_days,
        payment_days=profile.payment_days,
    )


@transaction.atomic
def start_quote(
    *, job: Job, by: Person, at: datetime, wish: QuoteWish | None = None
) -> Quote:
    """Start a job's quote, with what was typed; one that was started goes on.

    Raises QuoteError.
    """
    quote = _standing(job, by=by, at=at)
    if quote is None:
        Job.objects.select_for_update().get(pk=job.pk)
        quote = _standing(job, by=by, at=at) or _first(job, by=by, at=at)
    if wish is None:
        return quote
    version = quote.edit_version
    return change_quote(
        quote_id=quote.pk, wish=wish, edit_version=version, by=by, at=at
    )


@transaction.atomic
def change_quote(
    *, quote_id: int, wish: QuoteWish, edit_version: int, by: Person, at: datetime
) -> Quote:
    """Change a draft. Raises QuoteError, StaleQuoteError, and refusals of a session."""
    quote = locked(quote_id)
    if quote.state != QuoteState.DRAFT:
        raise QuoteError("A quote that went out is not changed; write a new version.")
    if quote.edit_version != edit_version:
        raise StaleQuoteError(
            "Somebody else changed this quote meanwhile. Their version stands below "
            "yours; save again to put yours in its place."
        )
    for field in fields(QuoteTerms):
        setattr(quote, field.name, getattr(wish.terms, field.name))
    quote.booking = set_session(quote, wish.session, by=by, at=at)
    quote.edit_version += 1
    quote.save()
    quote.lines.all().delete()
    names = [field.name for field in fields(LineWish)]
    QuoteLine.objects.bulk_create(
        QuoteLine(
            quote=quote,
            position=position,
            **{name: getattr(line, name) for name in names},
        )
        for position, line in enumerate(wish.lines, start=1)
    )
    _refuse_less_than_nothing(locked(quote_id))
    record(quote, "changed", by=by, at=at)
    return quote


@transaction.atomic
def new_version(*, quote_id: int, by: Person, at: datetime) -> Quote:
    """Write a draft of the next version; the one that is out stays out until sent.

    Raises QuoteError for an accepted one.
    """
    source = locked(quote_id)
    versions = Quote.objects.filter(number=source.number)
    if versions.filter(state=QuoteState.ACCEPTED).exists():
        raise QuoteError("This quote was accepted. Quote further work as a new job.")
    if draft := versions.filter(state=QuoteState.DRAFT).first():
        return draft
    profile = StudioProfile.load()
    fresh = at.astimezone(profile.zone).date() + timedelta(days=profile.quote_days)
    kept = [
        field.name for field in fields(QuoteTerms) if field.name != "valid_until_on"
    ]
    quote = Quote.objects.create(
        job=source.job,
        booking=session_of(source.job, standing=source.booking),
        number=source.number,
        version=versions.aggregate(last=Max("version"))["last"] + 1,
        drafted_by=by,
        drafted_at=at,
        currency=source.currency,
        price_basis=source.price_basis,
        valid_until_on=max(source.valid_until_on, fresh),
        **{name: getattr(source, name) for name in kept},
    )
    lines = list(source.lines.all())
    for line in lines:
        line.pk, line.quote = None, quote
    QuoteLine.objects.bulk_create(lines)
    record(quote, "drafted", by=by, at=at, data={"version": quote.version})
    return quote


@transaction.atomic
def let_quote_lapse(*, quote_id: int, at: datetime) -> Quote:
    """Note that a sent quote's date has passed. Raises QuoteMoveError."""
    return go(locked(quote_id), QuoteState.LAPSED, by=None, at=at)


def locked(quote_id: int) -> Quote:
    """Return a quote that nobody else changes until the transaction ends."""
    quotes = Quote.objects.select_related("job__client", "booking__place")
    return quotes.select_for_update(of=("self",)).get(pk=quote_id)


def go(
    quote: Quote,
    state: QuoteState,
    *,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> Quote:
    """Bring a locked quote to another state and note it. Raises QuoteMoveError."""
    quote.state = move(quote.state, state)
    quote.save(update_fields=["state"])
    record(quote, state.lower(), by=by, at=at, kind=kind)
    return quote


def _standing(job: Job, *, by: Person, at: datetime) -> Quote | None:
    quotes = Quote.objects.of_job(job)
    if draft := quotes.filter(state=QuoteState.DRAFT).first():
        return draft
    last = quotes.first()
    return new_version(quote_id=last.pk, by=by, at=at) if last else None


def _first(job: Job, *, by: Person, at: datetime) -> Quote:
    quote = blank_quote(job, by=by, at=at)
    today = at.astimezone(StudioProfile.load().zone).date()
    quote.number = take_number(SeriesKind.QUOTE, on=today).written
    quote.save()
    record(quote, "drafted", by=by, at=at)
    return quote


def _refuse_less_than_nothing(quote: Quote) -> None:
    for _, content in quote.contents():
        if not content.lines:
            continue
        try:
            gross = content.totals().gross
        except ValueError:  # a round discount on lines that cost nothing
            gross = None
        if gross is None or gross < 0:
            raise QuoteError("The discount is larger than the price.")
