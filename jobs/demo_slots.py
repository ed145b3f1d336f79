"""The demo's slot day: twelve families of a nursery, one after another."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final

from jobs.bookings.operations import BookingWish, confirm_booking, propose_booking
from jobs.clients.models import ClientKind
from jobs.clients.operations import ClientDetails, add_client
from jobs.jobs.choices import Source
from jobs.jobs.operations import Enquiry, mark_booked, open_job
from jobs.slotdays.operations import Offer, keep_back, make_slot_day, open_day
from jobs.slotdays.taking import Visitor, take_sitting
from jobs.slotdays.times import times_of
from studio.demo import Scenery
from studio.timespan import TimeSpan

WRITTEN_ON: Final = -9
HELD_ON: Final = 12
FAMILIES: Final = (
    (0, "Tamsin Orrell", "01632 960211", "Twins, three years old"),
    (1, "Piers Garrick", "01632 960212", ""),
    (3, "Wenna Sallow", "01632 960213", "Grandmother comes too"),
    (4, "Osbert Linnet", "01632 960214", ""),
    (6, "Maud Fettle", "01632 960215", "Shy at first"),
    (9, "Idris Penhale", "01632 960216", ""),
    (10, "Greta Holloway", "01632 960217", "One child in a wheelchair"),
)
KEPT_BACK: Final = 11


def tell_of_slots(scenery: Scenery) -> None:
    """Make a slot day, open its page, and let families take their times."""
    scenery.then(WRITTEN_ON, "15:10", lambda at: _make(scenery, at))
    for number, family in enumerate(FAMILIES):
        scenery.then(
            WRITTEN_ON + 1 + number, f"19:{10 + number}", _taker(scenery, family)
        )


def _make(scenery: Scenery, at: datetime) -> None:
    rows, maren = scenery.rows, scenery.rows["maren"]
    nursery = ClientDetails(
        name="Kiln Lane Nursery",
        kind=ClientKind.ORGANISATION,
        contact_name="Dorcas Weld",
        email="dorcas@kilnlane.example",
        phone="01632 960210",
    )
    client = add_client(details=nursery, by=maren, at=at)
    enquiry = Enquiry(
        title="Families of the nursery",
        wish="A morning of short sittings; each family pays for itself.",
        source=Source.RECOMMENDED,
    )
    job = open_job(client=client, enquiry=enquiry, by=maren, at=at)
    start = scenery.moment(HELD_ON, "09:30")
    wish = BookingWish(
        place=rows["place.studio"],
        starts_at=start,
        ends_at=scenery.moment(HELD_ON, "14:30"),
        packing_minutes=15,
        person_ids=(maren.pk,),
        kit_item_ids=(rows["kit.body_a"].pk, rows["kit.zoom"].pk),
    )
    booking = propose_booking(job=job, wish=wish, by=maren, at=at)
    confirm_booking(booking_id=booking.pk, by=maren, at=at)
    mark_booked(job_id=job.pk, by=maren, at=at)
    lunch = TimeSpan(scenery.moment(HELD_ON, "12:00"), scenery.moment(HELD_ON, "12:45"))
    day = make_slot_day(
        booking_id=booking.pk,
        offer=Offer(
            title="Winter family portraits",
            words=(
                "Twenty minutes for your family, and three finished pictures. Plain, "
                "warm colours look best; bring a favourite toy for the small ones."
            ),
            price_minor=6500,
            currency="GBP",
            closes_at=start - timedelta(days=2),
        ),
        times=times_of(booking.span, length=timedelta(minutes=20), pauses=[lunch])[:12],
        by=maren,
        at=at,
    )
    last = day.sittings.all()[KEPT_BACK]
    keep_back(sitting_id=last.pk, is_blocked=True, by=maren, at=at)
    open_day(day_id=day.pk, by=maren, at=at)
    rows["slot_day"] = day


def _taker(
    scenery: Scenery, family: tuple[int, str, str, str]
) -> Callable[[datetime], object]:
    place, name, phone, note = family
    mail = f"{name.split()[0].lower()}@{name.split()[1].lower()}.example"
    visitor = Visitor(name=name, phone=phone, email=mail, note=note)

    def take(at: datetime) -> object:
        sitting = scenery.rows["slot_day"].sittings.all()[place]
        return take_sitting(sitting_id=sitting.pk, visitor=visitor, by=None, at=at)

    return take
