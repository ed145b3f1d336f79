"""The demo's share of jobs: places, kit, clients, and each job up to its pictures."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import (
    BookingWish,
    complete_booking,
    list_attendees,
    propose_booking,
)
from jobs.clients.operations import add_client
from jobs.demo_attending import tell_of_who_comes
from jobs.demo_calendars import tell_of_calendars
from jobs.demo_enquiries import tell_of_enquiries
from jobs.demo_kit import small_kit, tell_of_kit
from jobs.demo_month import tell_of_the_month
from jobs.demo_people import tell_of_people
from jobs.demo_slots import tell_of_slots
from jobs.demo_stories import STORIES, Session, Story
from jobs.demo_things import KIT, ONE_OF, PLACES, SETS
from jobs.diary.daylight import Spot, events_on
from jobs.jobs.choices import LostReason
from jobs.jobs.operations import Enquiry, close_as_lost, mark_delivered, mark_shot
from jobs.jobs.operations import open_job as open_enquiry
from jobs.kits.operations import KitContent, add_item, keep_kit
from jobs.places.models import Place
from jobs.places.operations import add_place
from studio.demo import Scenery, demo_share

BEGAN: Final = -119
LOST_ON: Final = -16
ATTENDEES_ON: Final = -6


@demo_share
def jobs_share(scenery: Scenery) -> None:
    """Tell of places, kit and jobs.

    Hands on `place.KEY`, `kit.KEY`, `client.KEY`, `job.KEY` and `booking.KEY`.
    """
    scenery.then(BEGAN, "09:00", lambda at: _settle_in(scenery, at))
    for key, story in STORIES.items():
        _tell(scenery, key, story)
    scenery.then(LOST_ON, "10:20", lambda at: _lose(scenery, at))
    scenery.then(ATTENDEES_ON, "17:00", lambda at: _who_comes(scenery, at))
    tell_of_calendars(scenery)
    tell_of_enquiries(scenery)
    tell_of_kit(scenery)
    tell_of_people(scenery)
    tell_of_the_month(scenery)
    tell_of_slots(scenery)
    tell_of_who_comes(scenery)


def _settle_in(scenery: Scenery, at: datetime) -> None:
    rows, maren = scenery.rows, scenery.rows["maren"]
    for key, place in PLACES.items():
        rows[f"place.{key}"] = add_place(details=place, by=maren, at=at)
    for key, item in (KIT | small_kit()).items():
        rows[f"kit.{key}"] = add_item(details=item, by=maren, at=at)
    for name, keys in SETS.items():
        ids = [rows[f"kit.{key}"].pk for key in keys]
        one_of = [
            [rows[f"kit.{key}"].pk for key in keys] for keys in ONE_OF.get(name, ())
        ]
        holds = KitContent(item_ids=ids, one_of=one_of)
        keep_kit(name=name, holds=holds, by=maren, at=at)


def _tell(scenery: Scenery, key: str, story: Story) -> None:
    scenery.then(story.enquired, story.clock, lambda at: _open(scenery, key, story, at))
    session = story.session
    if session is None:
        return
    scenery.then(
        story.enquired + 1, "10:10", lambda at: _propose(scenery, key, session, at)
    )
    if session.days < 0:
        scenery.then(session.days, "23:00", lambda at: _shoot(scenery, key, at))
    if story.delivered is not None:
        scenery.then(story.delivered, "17:00", lambda at: _deliver(scenery, key, at))


def _open(scenery: Scenery, key: str, story: Story, at: datetime) -> None:
    rows, maren = scenery.rows, scenery.rows["maren"]
    client = add_client(details=story.client, by=maren, at=at)
    wished = None if story.wished is None else scenery.moment(story.wished).date()
    enquiry = Enquiry(
        title=story.title,
        wish=story.wish,
        wished_on=wished,
        came_in=story.came_in,
        source=story.source,
    )
    rows[f"client.{key}"] = client
    rows[f"job.{key}"] = open_enquiry(client=client, enquiry=enquiry, by=maren, at=at)


def _propose(scenery: Scenery, key: str, session: Session, at: datetime) -> None:
    rows = scenery.rows
    place: Place = rows[f"place.{session.place}"]
    starts_at = _start(scenery, session, place)
    wish = BookingWish(
        place=place,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(minutes=session.minutes),
        setting_up_minutes=session.setting_up_minutes,
        person_ids=tuple(rows[name].pk for name in session.crew),
        kit_item_ids=tuple(rows[f"kit.{name}"].pk for name in session.kit),
        weather_decision=session.weather,
    )
    rows[f"booking.{key}"] = propose_booking(
        job=rows[f"job.{key}"], wish=wish, by=rows["jory"], at=at
    )


def _start(scenery: Scenery, session: Session, place: Place) -> datetime:
    """Return a session's start; one that follows the sun is on five minutes."""
    if session.at_sunset is None:
        return scenery.moment(session.days, session.starts)
    on = scenery.moment(session.days).date()
    spot = Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )
    sunset = events_on(spot, on).sunset or scenery.moment(session.days, "18:00")
    start = sunset + timedelta(minutes=session.at_sunset)
    return start.replace(minute=start.minute // 5 * 5, second=0, microsecond=0)


def _shoot(scenery: Scenery, key: str, at: datetime) -> None:
    maren = scenery.rows["maren"]
    booking: Booking = scenery.rows[f"booking.{key}"]
    complete_booking(booking_id=booking.pk, by=maren, at=at)
    mark_shot(job_id=booking.job_id, by=maren, at=at)


def _deliver(scenery: Scenery, key: str, at: datetime) -> None:
    job = scenery.rows[f"job.{key}"]
    mark_delivered(job_id=job.pk, by=scenery.rows["maren"], at=at)


def _lose(scenery: Scenery, at: datetime) -> None:
    close_as_lost(
        job_id=scenery.rows["job.osgarth"].pk,
        because="Only that Saturday would do, and it was taken",
        reason=LostReason.DATE,
        by=scenery.rows["maren"],
        at=at,
    )


def _who_comes(scenery: Scenery, at: datetime) -> None:
    """Say who comes to the two next sessions."""
    rows, jory = scenery.rows, scenery.rows["jory"]
    brass, author = rows["client.brass"], rows["client.aldwinter"]
    people = {
        "brass": [
            Attendee(
                name=brass.contact_name,
                part=Part.CLIENT,
                role="cornet; decides for the band",
                phone=brass.phone,
                email=brass.email,
            ),
            Attendee(name="Four players", role="horn, two trombones, tuba"),
            Attendee(
                name="Ferris Odell",
                role="tuba, comes by wheelchair",
                phone="01632 960172",
                email="ferris@saltpanbrass.example",
            ),
        ],
        "aldwinter": [
            Attendee(
                name=author.name,
                part=Part.CLIENT,
                role="author",
                phone=author.phone,
                email=author.email,
            )
        ],
    }
    for key, attendees in people.items():
        list_attendees(
            booking_id=rows[f"booking.{key}"].pk, attendees=attendees, by=jory, at=at
        )
