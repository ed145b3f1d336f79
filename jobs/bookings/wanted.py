"""What a session wants and who comes to it, read once however many parts ask."""

from __future__ import annotations

from django.db.models import Prefetch, prefetch_related_objects

from jobs.bookings.models import Attendee, Booking, Reservation
from jobs.kits.models import KitItem
from studio.people.models import Person


def things_of(booking: Booking) -> list[Reservation]:
    """Return what a session wants or holds, each row with its person, item or room.

    One booking asks once: what pages show of it shares the rows. Operations, which
    change them, read their own.
    """
    rows = Reservation.objects.select_related("person", "kit_item", "room")
    prefetch_related_objects([booking], Prefetch("reservations", rows.order_by("pk")))
    return list(booking.reservations.all())


def people_of(booking: Booking) -> list[Person]:
    """Return the studio's people of a session, in the order in which they were put."""
    return [row.person for row in things_of(booking) if row.person]


def items_of(booking: Booking) -> list[KitItem]:
    """Return the kit of a session, the oldest entry of the list first."""
    items = [row.kit_item for row in things_of(booking) if row.kit_item]
    return sorted(items, key=lambda item: item.pk)


def guests_of(booking: Booking) -> list[Attendee]:
    """Return who comes to a session, with what they need; one booking asks once."""
    rows = Attendee.objects.select_related("need").order_by("pk")
    prefetch_related_objects([booking], Prefetch("attendees", rows))
    return list(booking.attendees.all())
