"""Everything that can be done to a booking."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction

from jobs.bookings.holding import (
    add_reservation,
    hold,
    refresh_reservations,
    refuse_trouble,
    release,
)
from jobs.bookings.models import LONGEST, LONGEST_RESERVATION, Attendee, Booking
from jobs.bookings.states import SETTLED, BookingMoveError, BookingStatus, move
from jobs.bookings.telling import tell_of_lapse
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.effects import follow_end, mind_new_times
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person


class BookingTimeError(DomainError):
    """A booking's times do not make a session."""


class StaleBookingError(DomainError):
    """A booking was changed by somebody else meanwhile."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookingWish:
    """When, where, with whom and with what a session is to happen."""

    place: Place
    starts_at: datetime
    ends_at: datetime
    setting_up_minutes: int = 30
    packing_minutes: int = 0
    person_ids: tuple[int, ...] = ()
    kit_item_ids: tuple[int, ...] = ()
    weather_decision: str = ""

    def __post_init__(self) -> None:
        if self.ends_at <= self.starts_at:
            raise BookingTimeError("The session ends before it starts.")
        if self.ends_at - self.starts_at > LONGEST:
            raise BookingTimeError("A session is 14 days long at most.")
        around = timedelta(minutes=self.setting_up_minutes + self.packing_minutes)
        if self.ends_at - self.starts_at + around > LONGEST_RESERVATION:
            raise BookingTimeError(
                "With setting up and packing a session is 15 days long at most."
            )


@transaction.atomic
def propose_booking(
    *, job: Job, wish: BookingWish, by: Person, at: datetime
) -> Booking:
    """Write a session down that holds nothing yet, as in a quote."""
    booking = Booking(job=job)
    _apply(booking, wish)
    booking.save()
    refresh_reservations(booking, wish.person_ids, wish.kit_item_ids)
    record(booking, "proposed", by=by, at=at)
    return booking


@transaction.atomic
def change_booking(
    *,
    booking_id: int,
    wish: BookingWish,
    by: Person,
    at: datetime,
    version: int | None = None,
) -> Booking:
    """Move a booking or change what it wants.

    Raises BookingMoveError, ClashError, StaleBookingError.
    """
    booking = locked_booking(booking_id)
    refuse_settled(booking)
    if version is not None and version != booking.version:
        raise StaleBookingError(
            "Somebody else changed this booking meanwhile. Their version is shown."
        )
    if (wish.starts_at, wish.ends_at) != (booking.starts_at, booking.ends_at):
        mind_new_times(booking)
    _apply(booking, wish)
    booking.version += 1
    booking.save()
    kept = _kept_items(booking)
    refresh_reservations(booking, wish.person_ids, wish.kit_item_ids)
    if booking.status == BookingStatus.CONFIRMED:
        refuse_trouble(booking, but=kept)
    if booking.is_holding:
        hold(booking, is_over=booking.ends_at <= at)
    record(booking, "changed", by=by, at=at)
    return booking


@transaction.atomic
def take_item(*, booking_id: int, item: KitItem, by: Person, at: datetime) -> Booking:
    """Want one more item for a session, and hold it if the session holds its things.

    An item that it has already stays. Raises BookingMoveError, ClashError.
    """
    booking = locked_booking(booking_id)
    refuse_settled(booking)
    if booking.reservations.filter(kit_item=item).exists():
        return booking
    kept = _kept_items(booking)
    add_reservation(booking, item)
    if booking.status == BookingStatus.CONFIRMED:
        refuse_trouble(booking, but=kept)
    if booking.is_holding:
        hold(booking, is_over=booking.ends_at <= at)
    booking.version += 1
    booking.save(update_fields=["version"])
    record(booking, "item taken", by=by, at=at, data={"item": item.name})
    return booking


@transaction.atomic
def pencil_booking(
    *,
    booking_id: int,
    until: datetime | None,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> Booking:
    """Hold a booking's time, people and kit until a moment.

    Raises BookingMoveError, BookingTimeError, ClashError.
    """
    booking = locked_booking(booking_id)
    if until is not None and until <= at:
        raise BookingTimeError("A session is held until a time that is still to come.")
    booking.status = move(booking.status, BookingStatus.PENCILLED)
    booking.held_until = until
    booking.save(update_fields=["status", "held_until"])
    hold(booking)
    record(booking, "pencilled", by=by, at=at, kind=kind)
    return booking


@transaction.atomic
def confirm_booking(
    *,
    booking_id: int,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
) -> Booking:
    """Make a booking firm. Raises BookingMoveError, ClashError, OutOfUseError."""
    booking = locked_booking(booking_id)
    if booking.status == BookingStatus.CONFIRMED:
        return booking
    refuse_trouble(booking)
    booking.status = move(booking.status, BookingStatus.CONFIRMED)
    booking.confirmed_at = at
    booking.held_until = None
    booking.save(update_fields=["status", "confirmed_at", "held_until"])
    hold(booking, is_over=booking.ends_at <= at)
    record(booking, "confirmed", by=by, at=at, kind=kind)
    return booking


@transaction.atomic
def let_hold_lapse(
    *, booking_id: int, at: datetime, by: Person | None = None
) -> Booking:
    """Free a pencilled booking, whose hold ran out or is given up (`by`).

    The session stays proposed. Where nobody gave it up, its crew and whoever answers
    for the job are written to. Raises BookingMoveError.
    """
    booking = locked_booking(booking_id)
    booking.status = move(booking.status, BookingStatus.PROPOSED)
    if by is None:
        tell_of_lapse(booking, at=at)
    booking.held_until = None
    booking.save(update_fields=["status", "held_until"])
    release(booking)
    record(booking, "hold given up" if by else "hold lapsed", by=by, at=at)
    return booking


@transaction.atomic
def complete_booking(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Note that the session happened. Raises BookingMoveError."""
    booking = locked_booking(booking_id)
    booking.status = move(booking.status, BookingStatus.COMPLETED)
    booking.save(update_fields=["status"])
    record(booking, "completed", by=by, at=at)
    return booking


@transaction.atomic
def cancel_booking(*, booking_id: int, by: Person, at: datetime) -> Booking:
    """Call a session off and free what it held. Raises BookingMoveError."""
    booking = locked_booking(booking_id)
    booking.status = move(booking.status, BookingStatus.CANCELLED)
    booking.held_until = None
    booking.save(update_fields=["status", "held_until"])
    release(booking)
    follow_end(booking, stands=False, by=by, at=at)
    record(booking, "cancelled", by=by, at=at)
    return booking


@transaction.atomic
def list_attendees(
    *,
    booking_id: int,
    attendees: Iterable[Attendee],
    by: Person,
    at: datetime,
    shown: Collection[int] | None = None,
) -> Booking:
    """Set who comes to a session, in the order given.

    An attendee with the key of a row that stands changes that row, so what hangs on it
    stays. `shown` are the rows that were there to be taken off; None means all.
    """
    booking = locked_booking(booking_id)
    listed = list(attendees)
    gone = booking.attendees.exclude(pk__in=[one.pk for one in listed if one.pk])
    (gone if shown is None else gone.filter(pk__in=shown)).delete()
    stand = set(booking.attendees.values_list("pk", flat=True))
    for attendee in listed:
        attendee.pk = attendee.pk if attendee.pk in stand else None
        attendee.booking = booking
        attendee.save()
    record(booking, "attendees listed", by=by, at=at)
    return booking


def _apply(booking: Booking, wish: BookingWish) -> None:
    booking.place = wish.place
    booking.starts_at, booking.ends_at = wish.starts_at, wish.ends_at
    booking.setting_up_minutes = wish.setting_up_minutes
    booking.packing_minutes = wish.packing_minutes
    booking.weather_decision = wish.weather_decision


def refuse_settled(booking: Booking) -> None:
    """Refuse to change a session that happened or was called off."""
    if booking.status in SETTLED:
        raise BookingMoveError(
            f"A {booking.get_status_display().lower()} session is not changed any more."
        )


def _kept_items(booking: Booking) -> list[int]:
    kept = KitItem.objects.filter(reservations__booking=booking)
    return list(kept.values_list("pk", flat=True))


def locked_booking(booking_id: int) -> Booking:
    """Return a booking with its place and job, locked until the transaction ends."""
    bookings = Booking.objects.select_related("place", "job")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
