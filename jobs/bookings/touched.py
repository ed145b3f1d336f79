"""What moving or calling off a session touches of bookings themselves."""

from __future__ import annotations

from django.urls import reverse

from jobs.bookings.choosing import free_instead
from jobs.bookings.holding import clash_sentences, rivals_of, wanted_reservations
from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.bookings.travelling import FIRM, tight_ways
from jobs.calendars.queries import busy_sentence
from studio.effects import Change, Effect, Weight, touches
from studio.timespan import TimeSpan


@touches(action="booking.see", order=10)
def held_things(change: Change) -> list[Effect]:
    """Tell what no longer fits at the new time and why, or what is free again."""
    booking: Booking = change.booking
    held = booking.reservations.select_related("person", "kit_item", "room")
    rows = list(held.order_by("pk"))
    if change.is_off:
        return _freed(booking, rows)
    wanted = _wanted(booking, rows, change)
    clashes = clash_sentences(wanted, beside=change.spare)
    weight = Weight.STOPS if booking.is_holding else Weight.WARNS
    found = [
        Effect(title="Something is taken then", words=words, weight=weight)
        for words in clashes
    ]
    found += _instead(booking, wanted, rows, change)
    for way in tight_ways(booking.place, wanted):
        stops = booking.status in FIRM and way.other_is_firm
        found.append(
            Effect(
                title="The way is too long",
                words=way.words,
                weight=Weight.STOPS if stops else Weight.WARNS,
            )
        )
    if busy := busy_sentence(wanted):
        found.append(Effect(title="Somebody is busy", words=busy))
    if not found and wanted:
        names = _names(rows)
        found.append(
            Effect(title="All of it fits", words=f"Free: {names}.", weight=Weight.TELLS)
        )
    return found


def _freed(booking: Booking, rows: list[Reservation]) -> list[Effect]:
    if booking.status == BookingStatus.PROPOSED or not rows:
        return []
    words = f"{_names(rows)}. Taken by somebody else, it is not to be had back."
    return [Effect(title="Free again at once", words=words, weight=Weight.TELLS)]


def _wanted(
    booking: Booking, rows: list[Reservation], change: Change
) -> list[Reservation]:
    moved = Booking(
        pk=booking.pk,
        place=booking.place,
        starts_at=change.starts_at or booking.starts_at,
        ends_at=change.ends_at or booking.ends_at,
        setting_up_minutes=booking.setting_up_minutes,
        packing_minutes=booking.packing_minutes,
    )
    people = [row.person_id for row in rows if row.person_id]
    items = [row.kit_item_id for row in rows if row.kit_item_id]
    return wanted_reservations(moved, people, items)


def _instead(
    booking: Booking,
    wanted: list[Reservation],
    rows: list[Reservation],
    change: Change,
) -> list[Effect]:
    """Tell what could go out in the place of an item that is taken then."""
    held = {row.kit_item_id for row in rows if row.kit_item_id}
    found = []
    for rival in rivals_of(wanted):
        beside = change.spare is not None and rival.booking_id == change.spare.pk
        if rival.kit_item is None or beside:
            continue
        span = TimeSpan(wanted[0].starts_at, wanted[0].ends_at)
        other = free_instead(rival.kit_item.pk, span=span, but=booking, held=held)
        if other is not None:
            words = f"{other} is free then: take it in place of {rival.kit_item} first."
            url = reverse("jobs:session", args=[booking.job_id])
            found.append(
                Effect(
                    title="Another would do",
                    words=words,
                    weight=Weight.TELLS,
                    url=url,
                    verb="The session’s kit",
                )
            )
    return found


def _names(rows: list[Reservation]) -> str:
    return ", ".join(row.resource_name for row in rows)
