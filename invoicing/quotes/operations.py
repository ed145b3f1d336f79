"""Writing and sending quotes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from django.db import transaction
from django.db.models import Max

from invoicing.quotes.documents import print_quote
from invoicing.quotes.models import Basis, ClientQuestion, Quote, QuoteLine
from invoicing.quotes.printed import printed_quote
from invoicing.quotes.snapshots import hash_of, snapshot_of
from invoicing.quotes.states import QuoteState, move
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from jobs.jobs.operations import mark_quoted
from studio.errors import DomainError
from studio.files.operations import store_file
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose
from studio.links.operations import make_link, revoke_links
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import DepositKind, StudioProfile
from studio.series.models import SeriesKind
from studio.series.operations import take_number

SENDABLE: Final = "A quote needs"


class QuoteError(DomainError):
    """A quote is not fit for what is asked of it."""


class StaleQuoteError(DomainError):
    """A quote was changed by somebody else meanwhile."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineWish:
    """One line as it was typed."""

    description: str
    unit_price_minor: int
    quantity_thousandths: int = 1000
    detail: str = ""
    unit: str = ""
    tax_rate_basis_points: int = 0
    cost_minor: int = 0
    optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteTerms:
    """What a quote says apart from its lines."""

    valid_until_on: date
    pictures_by_on: date | None = None
    opening_note: str = ""
    included: str = ""
    discount_percent_hundredths: int = 0
    discount_minor: int = 0
    deposit_kind: DepositKind = DepositKind.PERCENT
    deposit_percent: int = 0
    deposit_minor: int = 0
    deposit_days: int = 7
    payment_days: int = 14


@transaction.atomic
def start_quote(*, job: Job, by: Person, at: datetime) -> Quote:
    """Start a job's quote, or return the version that stands as a draft."""
    Job.objects.select_for_update().get(pk=job.pk)
    if draft := Quote.objects.of_job(job).filter(state=QuoteState.DRAFT).first():
        return draft
    if out := Quote.objects.of_job(job).first():
        return new_version(quote_id=out.pk, by=by, at=at)
    profile = StudioProfile.load()
    today = at.astimezone(profile.zone).date()
    gross = job.client.sees_tax_inclusive_prices
    quote = Quote.objects.create(
        job=job,
        booking=_session_of(job),
        number=take_number(SeriesKind.QUOTE, on=today).written,
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
    record(quote, "drafted", by=by, at=at)
    return quote


@transaction.atomic
def change_quote(
    *,
    quote_id: int,
    terms: QuoteTerms,
    lines: Sequence[LineWish],
    edit_version: int,
    by: Person,
    at: datetime,
) -> Quote:
    """Change a draft. Raises QuoteError, StaleQuoteError."""
    quote = _locked(quote_id)
    if quote.state != QuoteState.DRAFT:
        raise QuoteError("A quote that went out is not changed; write a new version.")
    if quote.edit_version != edit_version:
        raise StaleQuoteError(
            "Somebody else changed this quote meanwhile. What you typed is kept below."
        )
    for name in QuoteTerms.__dataclass_fields__:
        setattr(quote, name, getattr(terms, name))
    quote.booking = quote.booking or _session_of(quote.job)
    quote.edit_version += 1
    quote.save()
    quote.lines.all().delete()
    QuoteLine.objects.bulk_create(
        QuoteLine(
            quote=quote,
            position=position,
            **{name: getattr(wish, name) for name in LineWish.__dataclass_fields__},
        )
        for position, wish in enumerate(lines, start=1)
    )
    record(quote, "changed", by=by, at=at)
    return quote


@transaction.atomic
def new_version(*, quote_id: int, by: Person, at: datetime) -> Quote:
    """Write a draft of the next version; the one that is out stays out until sent."""
    source = _locked(quote_id)
    if source.state == QuoteState.ACCEPTED:
        raise QuoteError("This quote was accepted. Quote further work as a new job.")
    drafts = Quote.objects.filter(number=source.number, state=QuoteState.DRAFT)
    if draft := drafts.first():
        return draft
    versions = Quote.objects.filter(number=source.number)
    last = versions.aggregate(last=Max("version"))["last"]
    today = at.astimezone(StudioProfile.load().zone).date()
    lines = list(source.lines.all())
    fresh = today + timedelta(days=StudioProfile.load().quote_days)
    quote = Quote.objects.create(
        job=source.job,
        booking=source.booking or _session_of(source.job),
        number=source.number,
        version=last + 1,
        drafted_by=by,
        drafted_at=at,
        currency=source.currency,
        price_basis=source.price_basis,
        valid_until_on=max(source.valid_until_on, fresh),
        **{
            name: getattr(source, name)
            for name in QuoteTerms.__dataclass_fields__
            if name != "valid_until_on"
        },
    )
    for line in lines:
        line.pk, line.quote = None, quote
    QuoteLine.objects.bulk_create(lines)
    record(quote, "drafted", by=by, at=at, data={"version": quote.version})
    return quote


def missing(quote: Quote, *, on: date) -> list[str]:
    """Return a sentence for each thing that a quote needs before it can be sent."""
    said: list[str] = []
    if not any(not line.optional for line in quote.lines.all()):
        said.append("Add at least one line that is not an extra.")
    if quote.valid_until_on < on:
        said.append("Give a date after today for “Price holds until”.")
    if not quote.job.client.email:
        said.append(f"{quote.job.client} has no e-mail address yet.")
    if said:
        return said
    totals = quote.content().totals()
    if totals.gross <= 0:
        said.append("The total must be above zero.")
    return said


@transaction.atomic
def send_quote(
    *, quote_id: int, subject: str, body: str, by: Person, at: datetime
) -> Message:
    """Freeze a draft, print it, and put it into the outbox with a private link.

    An earlier version's link says from now on that it was replaced. Without a public
    address the letter carries the paper and no link. Raises QuoteError.
    """
    quote = _locked(quote_id)
    profile = StudioProfile.load()
    today = at.astimezone(profile.zone).date()
    if said := missing(quote, on=today):
        raise QuoteError(" ".join(said))
    _replace_earlier(quote, by=by, at=at)
    quote.state = move(quote.state, QuoteState.SENT)
    quote.sent_at = at
    quote.snapshot = snapshot_of(quote)
    quote.snapshot_hash = hash_of(quote.snapshot)
    quote.paper = store_file(
        name=f"{quote.number}-v{quote.version}.pdf",
        content_type="application/pdf",
        content=print_quote(printed_quote(quote.snapshot)),
        at=at,
    )
    quote.save()
    link = make_link(
        purpose=LinkPurpose.QUOTE, object_id=quote.pk, version=quote.version, at=at
    )
    client = quote.job.client
    public = bool(profile.public_address)
    message = write_message(
        occasion=f"quote:{quote.pk}",
        about=quote,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=subject,
            body=body if public else body.replace("{link}", "").rstrip() + "\n",
        ),
        at=at,
        link=link if public else None,
        files=[quote.paper],
    )
    mark_quoted(job_id=quote.job_id, by=by, at=at)
    record(quote, "sent", by=by, at=at, data={"hash": quote.snapshot_hash})
    return message


def letter_for(quote: Quote) -> tuple[str, str]:
    """Return the subject and the words that a quote goes out with; {link} stands."""
    profile = StudioProfile.load()
    client = quote.job.client
    subject = f"Your quote {quote.number} from {profile.trading_name}"
    where = (
        "You can read it, ask, and say yes here:\n{link}"
        if profile.public_address
        else "It comes with this message. To say yes, answer or ring."
    )
    body = (
        f"Dear {client.addressee},\n\nhere is the quote for {quote.job.title}. "
        f"{where}\n\nThe price holds until {quote.valid_until_on:%d %B %Y}. "
        f"Questions? {profile.phone}\n\n{profile.owner_name or profile.trading_name}\n"
    )
    return subject, body


@transaction.atomic
def decline_quote(*, quote_id: int, by: Person, at: datetime) -> Quote:
    """Note that the client said no. Raises QuoteMoveError."""
    return _go(_locked(quote_id), QuoteState.DECLINED, by=by, at=at)


@transaction.atomic
def let_quote_lapse(*, quote_id: int, at: datetime) -> Quote:
    """Note that a sent quote's date has passed. Raises QuoteMoveError."""
    return _go(_locked(quote_id), QuoteState.LAPSED, by=None, at=at)


@transaction.atomic
def ask_question(*, quote: Quote, words: str, at: datetime) -> ClientQuestion:
    """Keep what a client asks on the private page, and tell the studio."""
    question = ClientQuestion.objects.create(quote=quote, words=words, asked_at=at)
    profile = StudioProfile.load()
    if profile.email:
        write_message(
            occasion=f"question:{question.pk}",
            about=quote,
            letter=Letter(
                address=profile.email,
                recipient_name=profile.owner_name,
                subject=f"A question about {quote.number}",
                body=f"{quote.job.client} asks about {quote}:\n\n{words}\n",
            ),
            at=at,
        )
    record(quote, "question asked", by=None, at=at, kind=ActorKind.CLIENT)
    return question


@transaction.atomic
def note_answer(*, question_id: int, by: Person, at: datetime) -> ClientQuestion:
    """Note that a question was answered."""
    question = ClientQuestion.objects.select_related("quote").get(pk=question_id)
    if question.answered_at is None:
        question.answered_at = at
        question.save(update_fields=["answered_at"])
        record(question.quote, "question answered", by=by, at=at)
    return question


def _replace_earlier(quote: Quote, *, by: Person, at: datetime) -> None:
    earlier = Quote.objects.select_for_update().filter(
        number=quote.number,
        state__in=[QuoteState.SENT, QuoteState.LAPSED, QuoteState.DECLINED],
    )
    for one in earlier:
        _go(one, QuoteState.REPLACED, by=by, at=at)
        revoke_links(purpose=LinkPurpose.QUOTE, object_id=one.pk, at=at, replaced=True)


def _go(quote: Quote, state: QuoteState, *, by: Person | None, at: datetime) -> Quote:
    quote.state = move(quote.state, state)
    quote.save(update_fields=["state"])
    record(quote, state.lower(), by=by, at=at)
    return quote


def _session_of(job: Job) -> Booking | None:
    return job.bookings.live().order_by("starts_at").last()


def _locked(quote_id: int) -> Quote:
    quotes = Quote.objects.select_related("job__client", "booking__place")
    return quotes.select_for_update(of=("self",)).get(pk=quote_id)
