"""Holding people, rooms and kit for a booking, so that no two bookings share one.

The database refuses an overlap by itself (`jobs.bookings.guards`); here rivals are
put in line first and the refusal is turned into a sentence that names the clash.
"""

import hashlib
from collections.abc import Iterable
from datetime import timedelta

from django.db import DatabaseError, connection, transaction

from jobs.bookings.models import LONGEST_RESERVATION, Booking, Reservation
from studio.errors import DomainError


class ClashError(DomainError):
    """A person, room or item of kit is held by another booking at that time."""


def refresh_reservations(
    booking: Booking, person_ids: Iterable[int], kit_item_ids: Iterable[int]
) -> None:
    """Set which people, room and kit a booking wants; it holds none of them yet."""
    booking.reservations.all().delete()
    span = {
        "booking": booking,
        "starts_at": booking.starts_at - timedelta(minutes=booking.setting_up_minutes),
        "ends_at": booking.ends_at,
    }
    wanted = [
        Reservation(resource=f"person:{pk}", person_id=pk, **span)
        for pk in sorted(set(person_ids))
    ]
    wanted += [
        Reservation(resource=f"kit:{pk}", kit_item_id=pk, **span)
        for pk in sorted(set(kit_item_ids))
    ]
    if booking.place.is_room:
        resource = f"room:{booking.place_id}"
        wanted.append(Reservation(resource=resource, room=booking.place, **span))
    Reservation.objects.bulk_create(wanted)


def hold(booking: Booking) -> None:
    """Hold everything that a booking wants. Raises ClashError, holding nothing."""
    wanted = list(booking.reservations.order_by("resource"))
    _queue_up(wanted)
    if sentence := clash_sentence(wanted):
        raise ClashError(sentence)
    try:
        with transaction.atomic():
            booking.reservations.update(holds=True)
    except DatabaseError as refusal:  # a rival that got past the line
        raise ClashError(
            "Something that this session needs was taken a moment ago. Try again."
        ) from refusal


def release(booking: Booking) -> None:
    """Free everything that a booking held; it goes on wanting it."""
    booking.reservations.update(holds=False)


def rivals_of(reservation: Reservation) -> "list[Reservation]":
    """Return the reservations that hold the same thing at an overlapping time."""
    others = Reservation.objects.filter(
        resource=reservation.resource,
        holds=True,
        starts_at__lt=reservation.ends_at,
        starts_at__gt=reservation.starts_at - LONGEST_RESERVATION,
        ends_at__gt=reservation.starts_at,
    ).exclude(booking_id=reservation.booking_id)
    related = others.select_related("booking__job", "booking__place", "person")
    return list(related.order_by("starts_at"))


def clash_sentence(wanted: Iterable[Reservation]) -> str:
    """Return a sentence that names the first clash, or an empty one."""
    for reservation in wanted:
        for rival in rivals_of(reservation):
            return _name_clash(reservation, rival.booking)
    return ""


def _name_clash(reservation: Reservation, other: Booking) -> str:
    start, end = other.local_start, other.local_end
    day = f"{start:%a} {start.day} {start:%b %Y}"
    until = f"{end:%H:%M}" if end.date() == start.date() else f"{end:%a %H:%M}"
    return (
        f"{reservation.resource_name} is taken on {day} from "
        f"{start:%H:%M} to {until} (with set-up before) by {other.job.title}, "
        f"{other.job.number}."
    )


def _queue_up(wanted: Iterable[Reservation]) -> None:
    """Let rivals for the same things wait for each other, always in one order."""
    if connection.vendor != "postgresql":
        return  # SQLite's IMMEDIATE transactions already stand in one line
    with connection.cursor() as cursor:
        for reservation in wanted:
            digest = hashlib.sha256(reservation.resource.encode()).digest()
            key = int.from_bytes(digest[:8], "big", signed=True)
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [key])
