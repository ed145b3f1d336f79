"""Holding people, rooms and kit for a booking, so that no two bookings share one.

What blocked time keeps (`jobs.away`) stands in the same table, under the same rule.

The database refuses an overlap by itself (`jobs.bookings.guards`); here rivals are
put in line first and the refusal is turned into a sentence that names the clash.
"""

import hashlib
from collections.abc import Collection, Iterable

from django.db import DatabaseError, connection, models, transaction

from jobs.away.models import BlockedTime
from jobs.bookings.models import THE_STUDIO, Booking, Reservation
from jobs.bookings.travelling import refused_way
from jobs.kits.models import KitItem
from studio.errors import DomainError
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan
from studio.wording import day_date


class ClashError(DomainError):
    """A person, room or item of kit is held already at that time, or cannot get there.

    `resource` names the thing in one word, as a reservation does, where it is known.
    """

    def __init__(self, sentence: str, *, resource: str = "") -> None:
        super().__init__(sentence)
        self.resource = resource


class OutOfUseError(ClashError):
    """An item of kit is missing or damaged, so that no session can count on it."""


def refuse_trouble(booking: Booking, *, but: Iterable[int] = ()) -> None:
    """Refuse to be sure of a session whose kit is missing or damaged.

    `but` are items that it kept already. Raises OutOfUseError.
    """
    wanted = KitItem.objects.in_trouble().filter(reservations__booking=booking)
    item = wanted.exclude(pk__in=list(but)).order_by("name", "pk").first()
    if item is not None:
        raise OutOfUseError(
            f"{item.name} is {item.get_trouble_display().lower()}. Say on its page "
            "that it is back in order, or take it off the session’s kit.",
            resource=resource_of(item.pk),
        )


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
        ends_at=booking.free_at,
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
        "ends_at": booking.free_at,
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


def hold(booking: Booking, *, is_over: bool = False) -> None:
    """Hold everything that a booking wants. Raises ClashError, holding nothing.

    A firm booking is refused, too, where the way from or to another firm one takes
    longer than the time between them; not one that `is_over`, since it happened.
    """
    wanted = list(booking.reservations.order_by("resource"))
    queue_up([one.resource for one in wanted], beside=[THE_STUDIO])
    rivals = rivals_of(wanted) if wanted else _closing(booking)
    if rivals:
        raise ClashError(name_clash(rivals), resource=rivals[0].resource)
    if not is_over and (way := refused_way(booking, wanted)):
        raise ClashError(way.words, resource=way.resource)
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
    span = TimeSpan(asked[0].starts_at, asked[0].ends_at)
    names = [*(one.resource for one in asked), THE_STUDIO]
    others = holding_rows(names, span)
    if asked[0].booking_id is not None:
        others = others.exclude(booking_id=asked[0].booking_id)
    return list(others)


def holding_rows(
    resources: Collection[str], span: TimeSpan
) -> models.QuerySet[Reservation]:
    """Return what holds one of the things at that time, with all that names it."""
    found = Reservation.objects.during(span).named()
    held = found.filter(resource__in=resources, holds=True)
    return held.order_by("resource", "starts_at")


def clash_sentence(wanted: Iterable[Reservation]) -> str:
    """Return a sentence that names the first clash, or an empty one."""
    rivals = rivals_of(wanted)
    return name_clash(rivals) if rivals else ""


def clash_sentences(
    wanted: Iterable[Reservation], *, beside: Booking | None = None
) -> list[str]:
    """Return a sentence for each clash, those with one booking `beside` left out."""
    rivals = [
        one
        for one in rivals_of(wanted)
        if beside is None or one.booking_id != beside.pk
    ]
    return list(dict.fromkeys(_name_rival(one) for one in rivals))


def name_clash(rivals: list[Reservation]) -> str:
    """Return a sentence that names the first rival, and how many more there are."""
    taken = {rival.resource for rival in rivals} - {THE_STUDIO}
    first, others = rivals[0], max(len(taken) - 1, 0)
    verb = "is" if others == 1 else "are"
    rest = f" {others} more of what it needs {verb} taken too." if others else ""
    return _name_rival(first) + rest


def _closing(booking: Booking) -> list[Reservation]:
    """Return the closed time of the whole studio for a booking that wants nothing."""
    span = TimeSpan(booking.on_site_at, booking.free_at)
    return list(holding_rows([THE_STUDIO], span))


def _name_rival(reservation: Reservation) -> str:
    if reservation.blocked:
        return _name_blocked(reservation.blocked)
    other = reservation.booking
    if other is None:
        return f"{reservation.resource_name} is taken at that time."
    start, end = other.local_start, other.local_end
    day = day_date(start)
    until = f"{end:%H:%M}" if end.date() == start.date() else f"{end:%a %H:%M}"
    return (
        f"{reservation.resource_name} is taken on {day} from "
        f"{start:%H:%M} to {until} (with set-up before) by {other.job.title}, "
        f"{other.job.number}."
    )


def _name_blocked(blocked: BlockedTime) -> str:
    zone = StudioProfile.load().zone
    start, end = blocked.starts_at.astimezone(zone), blocked.ends_at.astimezone(zone)
    first, last = (f"{day_date(one)}, {one:%H:%M}" for one in (start, end))
    if end.date() == start.date():
        last = f"{end:%H:%M}"
    verb = "is away" if blocked.person else "is closed"
    return f"{blocked.who} {verb} from {first} to {last}: {blocked.why}."


def queue_up(resources: Collection[str], *, beside: Collection[str] = ()) -> None:
    """Let rivals for the same things wait for each other, always in one order.

    Those who only stand `beside` a thing wait for whoever takes it, not for each other.
    """
    if connection.vendor != "postgresql":
        return  # SQLite's IMMEDIATE transactions already stand in one line
    with connection.cursor() as cursor:
        for name in sorted({*resources, *beside}):
            digest = hashlib.sha256(name.encode()).digest()
            key = int.from_bytes(digest[:8], "big", signed=True)
            lock = "pg_advisory_xact_lock"
            if name not in resources:
                lock += "_shared"
            cursor.execute(f"SELECT {lock}(%s)", [key])
