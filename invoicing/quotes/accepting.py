"""The yes: recorded once, for exactly what was shown, with all that follows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db import transaction

from invoicing.invoices.content import Content, Order
from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.quotes.models import Acceptance, How, Quote
from invoicing.quotes.snapshots import hash_of
from invoicing.quotes.states import QuoteState
from jobs.bookings.operations import confirm_booking, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.operations import mark_booked, note_showing
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.mail.operations import Letter, write_message
from studio.money import Money
from studio.people.models import Person
from studio.profile.models import StudioProfile


class AlreadyAcceptedError(DomainError):
    """A quote has its yes already."""


class NotOpenError(DomainError):
    """A quote cannot be accepted any more: replaced, lapsed or withdrawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Yes:
    """What a client said: who, how, which extras, and whether pictures may be shown."""

    name: str
    how: How = How.PAGE
    chosen: frozenset[int] = frozenset()
    may_show_pictures: bool = False
    network_address: str = ""
    scan: StoredFile | None = None


@transaction.atomic
def accept_quote(
    *, quote_id: int, yes: Yes, at: datetime, by: Person | None = None
) -> Acceptance:
    """Record the yes to a sent quote, once, and do all that it brings about.

    The session is held until the deposit is due, or confirmed at once where nothing
    is to be paid before or the studio wants it so; the deposit's invoice is drafted.
    Raises AlreadyAcceptedError, NotOpenError, and ClashError with nothing recorded.
    """
    taken = Quote.objects.filter(pk=quote_id, state=QuoteState.SENT).update(
        state=QuoteState.ACCEPTED
    )
    quote = Quote.objects.select_related("job__client", "booking__place").get(
        pk=quote_id
    )
    _check(quote, taken=bool(taken), on=_day(at), by=by)
    kind = None if by else ActorKind.CLIENT
    acceptance = _keep(quote, yes, at=at, by=by)
    mark_booked(job_id=quote.job_id, by=by, at=at, kind=kind)
    _hold_session(quote, acceptance, by=by, at=at)
    note_showing(job_id=quote.job_id, allowed=yes.may_show_pictures, by=by, at=at)
    draft_deposit_invoice(order=order_of(acceptance), by=by, at=at, kind=kind)
    record(
        quote,
        "accepted",
        by=by,
        at=at,
        kind=kind,
        data={
            "version": quote.version,
            "hash": acceptance.accepted_hash,
            "total_minor": acceptance.total_minor,
            "how": acceptance.how,
        },
    )
    _tell_studio(quote, acceptance, at=at)
    return acceptance


def order_of(acceptance: Acceptance) -> Order:
    """Return what a client agreed to, as invoices are drafted from."""
    quote = acceptance.quote
    return Order(
        job_id=quote.job_id,
        content=Content.from_json(acceptance.content),
        deposit_minor=acceptance.deposit_minor,
        deposit_days=quote.deposit_days,
        payment_days=quote.payment_days,
    )


def _check(quote: Quote, *, taken: bool, on: date, by: Person | None) -> None:
    if not taken:
        standing = Acceptance.objects.filter(quote__number=quote.number).first()
        if standing:
            zone = StudioProfile.load().zone
            raise AlreadyAcceptedError(
                f"This quote was accepted by {standing.name} on "
                f"{standing.accepted_at.astimezone(zone):%d %B %Y at %H:%M}."
            )
        raise NotOpenError("This quote is not open any more.")
    if by is None and quote.valid_until_on < on:
        raise NotOpenError("The price of this quote held until an earlier day.")


def _keep(quote: Quote, yes: Yes, *, at: datetime, by: Person | None) -> Acceptance:
    content = quote.content(yes.chosen)
    total = Money(content.totals().gross, quote.currency)
    deposit = quote.deposit_on(total)
    agreed = {
        "shown": quote.snapshot_hash,
        "content": content.to_json(),
        "total_minor": total.minor,
        "deposit_minor": deposit.minor,
    }
    return Acceptance.objects.create(
        quote=quote,
        name=yes.name,
        how=yes.how,
        accepted_at=at,
        recorded_by=by,
        quote_version=quote.version,
        content=content.to_json(),
        total_minor=total.minor,
        deposit_minor=deposit.minor,
        deposit_due_on=_deposit_due(quote, on=_day(at)),
        accepted_hash=hash_of(agreed),
        network_address=yes.network_address,
        scan=yes.scan,
    )


def _deposit_due(quote: Quote, *, on: date) -> date:
    due = on + timedelta(days=quote.deposit_days)
    if quote.booking is None:
        return due
    return max(min(due, quote.booking.local_start.date()), on)


def _hold_session(
    quote: Quote, acceptance: Acceptance, *, by: Person | None, at: datetime
) -> None:
    booking = quote.booking
    if booking is None or booking.status not in (
        BookingStatus.PROPOSED,
        BookingStatus.PENCILLED,
    ):
        return
    kind = None if by else ActorKind.CLIENT
    at_once = StudioProfile.load().acceptance_confirms or not acceptance.deposit_minor
    if at_once:
        confirm_booking(booking_id=booking.pk, by=by, at=at, kind=kind)
        return
    if booking.status == BookingStatus.PROPOSED:
        end_of_day = datetime.combine(
            acceptance.deposit_due_on + timedelta(days=1),
            datetime.min.time(),
            tzinfo=StudioProfile.load().zone,
        )
        pencil_booking(booking_id=booking.pk, until=end_of_day, by=by, at=at, kind=kind)


def _tell_studio(quote: Quote, acceptance: Acceptance, *, at: datetime) -> None:
    profile = StudioProfile.load()
    if acceptance.recorded_by or not profile.email:
        return
    write_message(
        occasion=f"accepted:{acceptance.pk}",
        about=quote,
        letter=Letter(
            address=profile.email,
            recipient_name=profile.owner_name,
            subject=f"{quote.number} was accepted",
            body=(
                f"{acceptance.name} said yes to {quote} for {quote.job.title}.\n"
                "The session is held; the deposit’s invoice stands drafted.\n"
            ),
        ),
        at=at,
    )


def _day(at: datetime) -> date:
    return at.astimezone(StudioProfile.load().zone).date()
