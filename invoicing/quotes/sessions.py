"""The session that a quote offers: read from the job, proposed, or moved."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from invoicing.quotes.models import Quote
from jobs.bookings.models import Booking
from jobs.bookings.operations import BookingWish, change_booking, propose_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.places.models import Place
from studio.errors import DomainError
from studio.people.models import Person


class HeldSessionError(DomainError):
    """A session that is held is moved on its own page, not from a quote."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionWish:
    """When and where a quote says that the session is."""

    place: Place
    starts_at: datetime
    ends_at: datetime
    booking_version: int | None = None


def session_of(job: Job, *, standing: Booking | None = None) -> Booking | None:
    """Return the session that a job's quote is about: the one that it names, or the
    job's last that was not called off."""
    if standing and standing.status != BookingStatus.CANCELLED:
        return standing
    return job.bookings.live().select_related("place").order_by("starts_at").last()


def set_session(
    quote: Quote, wish: SessionWish | None, *, by: Person, at: datetime
) -> Booking | None:
    """Give a draft its session: as it stands, moved, or newly proposed.

    A new one wants the studio's owner. Raises HeldSessionError, BookingTimeError,
    StaleBookingError.
    """
    if wish is None:
        return None
    booking = session_of(quote.job, standing=quote.booking)
    if booking is None:
        asked = _booking_wish(wish, person_ids=_owners())
        return propose_booking(job=quote.job, wish=asked, by=by, at=at)
    if _is_at(booking, wish):
        return booking
    if booking.status != BookingStatus.PROPOSED:
        raise HeldSessionError(
            "The session is held already. Move it on the session's own page."
        )
    wanted = booking.reservations.all()
    asked = _booking_wish(
        wish,
        person_ids=tuple(one.person_id for one in wanted if one.person_id),
        kit_item_ids=tuple(one.kit_item_id for one in wanted if one.kit_item_id),
        setting_up_minutes=booking.setting_up_minutes,
        packing_minutes=booking.packing_minutes,
        weather_decision=booking.weather_decision,
    )
    return change_booking(
        booking_id=booking.pk, wish=asked, by=by, at=at, version=wish.booking_version
    )


def _is_at(booking: Booking, wish: SessionWish) -> bool:
    return (booking.place_id, booking.starts_at, booking.ends_at) == (
        wish.place.pk,
        wish.starts_at,
        wish.ends_at,
    )


def _booking_wish(wish: SessionWish, **rest: object) -> BookingWish:
    return BookingWish(
        place=wish.place,
        starts_at=wish.starts_at,
        ends_at=wish.ends_at,
        **rest,  # type: ignore[arg-type]
    )


def _owners() -> tuple[int, ...]:
    owners = Person.objects.filter(is_owner=True, is_active=True).order_by("pk")
    return tuple(owners.values_list("pk", flat=True)[:1])
