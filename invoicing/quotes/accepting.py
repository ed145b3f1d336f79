"""The yes: recorded once, for exactly what was shown, with all that follows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db import transaction

from invoicing.invoices.operations import draft_deposit_invoice
from invoicing.quotes.letters import tell_client, tell_studio
from invoicing.quotes.models import Acceptance, How, Quote
from invoicing.quotes.operations import go
from invoicing.quotes.queries import order_of
from invoicing.quotes.snapshots import (
    Choice,
    Snapshot,
    content_of,
    deposit_of,
    hash_of,
    packages_of,
)
from invoicing.quotes.states import QuoteState
from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking, let_hold_lapse, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.operations import mark_booked, note_showing
from studio.errors import DomainError
from studio.faults import faultpoint
from studio.files.models import StoredFile
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.money import Money
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words


class AlreadyAcceptedError(DomainError):
    """A quote has its yes already."""


class NotOpenError(DomainError):
    """A quote cannot be accepted any more: replaced, lapsed or declined."""


class PriceMovedError(DomainError):
    """A client agreed to another sum than what they chose comes to."""


class NoPackageError(DomainError):
    """A client is to choose one of several packages and chose none of them."""


class SessionMovedError(DomainError):
    """The session that a quote offers was moved or called off since it was sent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Yes:
    """What a client said: who, how, which of what, and whether pictures may be shown.

    `package` is the place of the one chosen, where several are offered.
    `agreed_minor` is the sum that stood on the page, `said_at` when a yes that the
    studio records was given.
    """

    name: str
    how: How = How.PAGE
    chosen: frozenset[int] = frozenset()
    package: int | None = None
    may_show_pictures: bool = False
    agreed_minor: int | None = None
    said_at: datetime | None = None
    network_address: str = ""
    scan: StoredFile | None = None


@transaction.atomic
def accept_quote(
    *, quote_id: int, yes: Yes, at: datetime, by: Person | None = None
) -> Acceptance:
    """Record the yes to a sent quote, once, and do all that it brings about.

    The session is held until the deposit is due, or confirmed at once where nothing
    is to be paid before or the studio wants it so; the deposit's invoice is drafted.
    The studio itself (`by`) may record a yes to a price that has lapsed. Raises
    AlreadyAcceptedError, NotOpenError, PriceMovedError, SessionMovedError,
    NoPackageError, ClashError and JobMoveError, with nothing recorded.
    """
    open_states = [QuoteState.SENT, *([QuoteState.LAPSED] if by else [])]
    taken = Quote.objects.filter(pk=quote_id, state__in=open_states).update(
        state=QuoteState.ACCEPTED
    )
    quotes = Quote.objects.select_related("job__client", "booking__place")
    quote = quotes.get(pk=quote_id)
    if not taken:
        raise _refusal(quote)
    if by is None and quote.valid_until_on < _day(at):
        raise NotOpenError(
            f"The price of this quote held until {long_date(quote.valid_until_on)}."
        )
    _check_session(quote)
    _drop_drafts(quote, by=by, at=at)
    kind = None if by else ActorKind.CLIENT
    acceptance = _keep(quote, yes, at=at, by=by)
    mark_booked(job_id=quote.job_id, by=by, at=at, kind=kind)
    _hold_session(quote, acceptance, by=by, at=at)
    note_showing(job_id=quote.job_id, allowed=yes.may_show_pictures, by=by, at=at)
    draft_deposit_invoice(order=order_of(acceptance), by=by, at=at, kind=kind)
    facts = {
        "version": quote.version,
        "hash": acceptance.accepted_hash,
        "total_minor": acceptance.total_minor,
        "how": acceptance.how,
    }
    record(quote, "accepted", by=by, at=at, kind=kind, data=facts)
    tell_studio(acceptance, at=at)
    tell_client(acceptance, at=at)
    faultpoint("before_commit")
    return acceptance


def _refusal(quote: Quote) -> DomainError:
    standing = Acceptance.objects.filter(quote__number=quote.number).first()
    if standing is None:
        return NotOpenError("This quote is not open any more.")
    local = standing.accepted_at.astimezone(StudioProfile.load().zone)
    return AlreadyAcceptedError(
        f"This quote was already accepted by {standing.name} on "
        f"{long_date(local.date())} at {local:%H:%M}."
    )


def _drop_drafts(quote: Quote, *, by: Person | None, at: datetime) -> None:
    drafts = Quote.objects.filter(number=quote.number, state=QuoteState.DRAFT)
    for draft in drafts.select_for_update().order_by("version"):
        go(draft, QuoteState.REPLACED, by=by, at=at)


def _check_session(quote: Quote) -> None:
    offered, booking = _snapshot(quote)["session"], quote.booking
    if offered is None:
        return
    if booking and booking.status != BookingStatus.CANCELLED:
        stands = (booking.place_id, booking.starts_at, booking.ends_at)
        start, end = (
            datetime.fromisoformat(offered[name]) for name in ("starts_at", "ends_at")
        )
        if stands == (offered["place"], start, end):
            return
    raise SessionMovedError(
        "The session was moved or called off since this quote was sent. Send a new "
        "version with its date."
    )


def _keep(quote: Quote, yes: Yes, *, at: datetime, by: Person | None) -> Acceptance:
    snapshot = _snapshot(quote)
    choice = _choice(snapshot, yes)
    content = content_of(snapshot, choice)
    total = Money(content.totals().gross, content.currency)
    if yes.agreed_minor not in (None, total.minor):
        raise PriceMovedError(
            f"As ticked now, the price is {money_words(total)}. Accept once more "
            "if that is right."
        )
    deposit = deposit_of(snapshot, total)
    agreed = {
        "shown": quote.snapshot_hash,
        "content": content.to_json(),
        "chosen": choice.to_json(snapshot),
        "total_minor": total.minor,
        "deposit_minor": deposit.minor,
        "name": yes.name,
    }
    return Acceptance.objects.create(
        quote=quote,
        name=yes.name,
        how=yes.how,
        accepted_at=yes.said_at or at,
        recorded_at=at,
        recorded_by=by,
        quote_version=quote.version,
        content=content.to_json(),
        total_minor=total.minor,
        deposit_minor=deposit.minor,
        deposit_due_on=_deposit_due(quote, on=_day(at)),
        may_show_pictures=yes.may_show_pictures,
        snapshot_hash=quote.snapshot_hash,
        accepted_hash=hash_of(agreed),
        chosen=choice.to_json(snapshot),
        network_address=yes.network_address,
        scan=yes.scan,
    )


def _choice(snapshot: Snapshot, yes: Yes) -> Choice:
    places = {one.place for one in packages_of(snapshot)}
    if not places:
        return Choice(yes.chosen)
    if yes.package not in places:
        raise NoPackageError("Choose one of the packages.")
    return Choice(yes.chosen, yes.package)


def _deposit_due(quote: Quote, *, on: date) -> date:
    due = on + timedelta(days=_snapshot(quote)["deposit_days"])
    if quote.booking is None:
        return due
    return max(min(due, quote.booking.local_start.date()), on)


def _hold_session(
    quote: Quote, acceptance: Acceptance, *, by: Person | None, at: datetime
) -> None:
    booking = quote.booking
    unsettled = (BookingStatus.PROPOSED, BookingStatus.PENCILLED)
    if booking is None or booking.status not in unsettled:
        return
    kind = None if by else ActorKind.CLIENT
    if _snapshot(quote)["yes_confirms"] or not acceptance.deposit_minor:
        confirm_booking(booking_id=booking.pk, by=by, at=at, kind=kind)
        return
    until = _end_of(acceptance.deposit_due_on)
    if booking.status == BookingStatus.PENCILLED:
        if not _ends_before(booking, until):
            return
        let_hold_lapse(booking_id=booking.pk, at=at)  # to be held anew, for longer
    pencil_booking(booking_id=booking.pk, until=until, by=by, at=at, kind=kind)


def _ends_before(booking: Booking, until: datetime) -> bool:
    return booking.held_until is not None and booking.held_until < until


def _end_of(day: date) -> datetime:
    zone = StudioProfile.load().zone
    return datetime.combine(day, time(23, 59), tzinfo=zone)  # reads as that day


def _snapshot(quote: Quote) -> Snapshot:
    snapshot: Snapshot | None = quote.snapshot
    if snapshot is None:
        raise NotOpenError("This quote was never sent.")
    return snapshot


def _day(at: datetime) -> date:
    return at.astimezone(StudioProfile.load().zone).date()
