"""Holding people, rooms and kit for a booking, so that no two bookings share one.

The database refuses an overlap by itself (`jobs.bookings.guards`); here rivals are
put in line first and the refusal is turned into a sentence that names the clash.
"""

import hashlib
from collections.abc import Iterable

from django.db import DatabaseError, connection, transaction

from jobs.bookings.models import LONGEST_RESERVATION, Booking, Reservation
from jobs.kits.models import KitItem
from studio.errors import DomainError


class ClashError(DomainError):
    """A person, room or item of kit is held by another booking at that time.

    `resource` names the thing in one word, as a reservation does, where it is known.
    """

    def __init__(self, sentence: str, *, resource: str = "") -> None:
        super().__init__(sentence)
        self.resource = resource


def refresh_reservations(
    booking: Booking, person_ids: Iterable[int], kit_item_ids: Iterable[int]
) -> None:
    """Set which people, room and kit a booking wants; it holds none of them yet."""
    booking.reservations.all().delete()
    wanted = wanted_reservations(booking, person_ids, kit_item_ids)
    Reservation.objects.bulk_create(wanted)


def add_reservation(booking: Booking, item: KitItem) -> None:
    """Let a booking want one more item; it does not hold it yet."""
    Reservation.objects.create(
        booking=booking,
        resource=resource_of(item.pk),
        kit_item=item,
        starts_at=booking.on_site_at,
        ends_at=booking.ends_at,
    )


def resource_of(item_id: int) -> str:
    """Return the one word by which the database knows an item that is held."""
    return f"kit:{item_id}"


def wanted_reservations(
    booking: Booking, person_ids: Iterable[int], kit_item_ids: Iterable[int]
) -> list[Reservation]:
    """Return what a booking would want, kept or not, without writing it down."""
    span = {
        "booking": booking,
        "starts_at": booking.on_site_at,
        "ends_at": booking.ends_at,
    }
    wanted = [
        Reservation(resource=f"person:{pk}", person_id=pk, **span)
        for pk in sorted(set(person_ids))
    ]
    wanted += [
        Reservation(resource=resource_of(pk), kit_item_id=pk, **span)
        for pk in sorted(set(kit_item_ids))
    ]
    if booking.place.is_room:
        resource = f"room:{booking.place_id}"
        wanted.append(Reservation(resource=resource, room=booking.place, **span))
    return wanted


def hold(booking: Booking) -> None:
    """Hold everything that a booking wants. Raises ClashError, holding nothing."""
    wanted = list(booking.reservations.order_by("resource"))
    _queue_up(wanted)
    if rivals := rivals_of(wanted):
        raise ClashError(_name_clash(rivals), resource=rivals[0].resource)
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


def rivals_of(wanted: Iterable[Reservation]) -> list[Reservation]:
    """Return the reservations that hold one of the things wanted, at that time.

    `wanted` is what one booking wants: all of it for the same time.
    """
    asked = list(wanted)
    if not asked:
        return []
    others = Reservation.objects.filter(
        resource__in=[one.resource for one in asked],
        holds=True,
        starts_at__lt=asked[0].ends_at,
        starts_at__gt=asked[0].starts_at - LONGEST_RESERVATION,
        ends_at__gt=asked[0].starts_at,
    ).exclude(booking_id=asked[0].booking_id)
    related = others.select_related(
        "booking__job", "booking__place", "person", "kit_item", "room"
    )
    return list(related.order_by("resource", "starts_at"))


def clash_sentence(wanted: Iterable[Reservation]) -> str:
    """Return a sentence that names the first clash, or an empty one."""
    rivals = rivals_of(wanted)
    return _name_clash(rivals) if rivals else ""


def _name_clash(rivals: list[Reservation]) -> str:
    first, others = rivals[0], len({rival.resource for rival in rivals}) - 1
    verb = "is" if others == 1 else "are"
    rest = f" {others} more of what it needs {verb} taken too." if others else ""
    return _name_rival(first) + rest


def _name_rival(reservation: Reservation) -> str:
    other = reservation.booking
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
