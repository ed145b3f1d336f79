"""The demo's busy month ahead: series of sessions, a holiday, and a clash caught."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from jobs.away.operations import Absence, block_time
from jobs.bookings.holding import ClashError
from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingWish,
    confirm_booking,
    pencil_booking,
    propose_booking,
)
from jobs.clients.models import ClientKind
from jobs.clients.operations import ClientDetails, add_client
from jobs.jobs.choices import Source
from jobs.jobs.models import Job
from jobs.jobs.operations import Enquiry, mark_booked, note_answer, open_job
from studio.demo import Scenery

WRITTEN_ON: Final = -3
FIRST_DAY: Final = 24
WEEKS: Final = 4
HOLIDAY_WEEK: Final = 2
HELD_FOR: Final = 20
"""In days from today."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Sessions of one job, at one clock time on some weekdays (0 is Monday)."""

    client: str
    contact: str
    mail: str
    number: int
    title: str
    weekdays: tuple[int, ...]
    starts: str
    minutes: int
    place: str
    crew: tuple[str, ...]
    kit: tuple[str, ...] = ()
    is_firm: bool = True


SERIES: Final = (
    Series(
        client="Ropewalk Homes",
        contact="Sunniva Crake",
        mail="sunniva@ropewalkhomes.example",
        number=181,
        title="Staff portraits, six at a time",
        weekdays=(0, 2, 3),
        starts="09:30",
        minutes=120,
        place="studio",
        crew=("maren",),
        kit=("body_a", "portrait"),
    ),
    Series(
        client="Long Sand Wardens",
        contact="Ivo Marram",
        mail="ivo@longsand.example",
        number=182,
        title="Wardens at work",
        weekdays=(1, 4),
        starts="11:00",
        minutes=90,
        place="beach",
        crew=("jory",),
        kit=("body_b", "long"),
    ),
    Series(
        client="Mole Road Rowers",
        contact="Tamsin Hythe",
        mail="tamsin@moleroad.example",
        number=183,
        title="One boat a week",
        weekdays=(2,),
        starts="13:30",
        minutes=60,
        place="harbour",
        crew=("jory", "edda"),
        kit=("body_b", "white"),
    ),
    Series(
        client="Netloft Nursery",
        contact="Perpetua Wick",
        mail="perpetua@netloft.example",
        number=184,
        title="Short family sessions",
        weekdays=(1, 4),
        starts="15:00",
        minutes=90,
        place="studio",
        crew=("maren",),
        kit=("body_a", "zoom"),
    ),
    Series(
        client="Hollin Forest School",
        contact="Osric Lathe",
        mail="osric@hollinschool.example",
        number=185,
        title="Saturdays in the wood",
        weekdays=(5,),
        starts="10:00",
        minutes=120,
        place="wood",
        crew=("maren", "edda"),
        kit=("body_a", "zoom"),
        is_firm=False,
    ),
    Series(
        client="Foregate Tailors",
        contact="Hesketh Vane",
        mail="hesketh@foregate.example",
        number=186,
        title="Evening fittings",
        weekdays=(3,),
        starts="17:30",
        minutes=60,
        place="studio",
        crew=("maren",),
        kit=("body_a",),
        is_firm=False,
    ),
)

RIVAL: Final = Series(
    client="Quayside Players",
    contact="Lorna Thrift",
    mail="lorna@quayside.example",
    number=187,
    title="Cast portraits for the winter play",
    weekdays=(0,),
    starts="10:30",
    minutes=90,
    place="studio",
    crew=("maren",),
    kit=("body_b",),
    is_firm=False,
)


def tell_of_the_month(scenery: Scenery) -> None:
    """Tell of the weeks ahead: forty sessions of three people."""
    scenery.then(WRITTEN_ON, "11:30", lambda at: _go_away(scenery, at))
    scenery.then(WRITTEN_ON, "12:00", lambda at: _fill(scenery, at))


def _go_away(scenery: Scenery, at: datetime) -> None:
    start = _monday(scenery) + 7 * HOLIDAY_WEEK
    jory = scenery.rows["jory"]
    absence = Absence(
        person=jory,
        starts_at=scenery.moment(start, "00:00"),
        ends_at=scenery.moment(start + 7, "00:00"),
        why="Holiday",
    )
    block_time(absence=absence, by=jory, at=at)


def _fill(scenery: Scenery, at: datetime) -> None:
    for series in SERIES:
        job = _job(scenery, series, at)
        for days in _days(scenery, series):
            _book(scenery, series, _written(scenery, series, job, days, at), at)
        if series.is_firm:
            mark_booked(job_id=job.pk, by=scenery.rows["maren"], at=at)
    _be_caught(scenery, at)


def _be_caught(scenery: Scenery, at: datetime) -> None:
    """Let somebody ask for an hour that is taken: the tool refuses to hold it."""
    job = _job(scenery, RIVAL, at)
    booking = _written(scenery, RIVAL, job, _monday(scenery), at)
    scenery.rows["booking.rival"] = booking
    try:
        _book(scenery, RIVAL, booking, at)
    except ClashError:
        return
    raise RuntimeError("the demo's clash was not caught")


def _job(scenery: Scenery, series: Series, at: datetime) -> Job:
    maren = scenery.rows["maren"]
    details = ClientDetails(
        name=series.client,
        kind=ClientKind.ORGANISATION,
        contact_name=series.contact,
        email=series.mail,
        phone=f"01632 960{series.number}",
    )
    client = add_client(details=details, by=maren, at=at)
    enquiry = Enquiry(title=series.title, source=Source.RECOMMENDED)
    job = open_job(client=client, enquiry=enquiry, by=maren, at=at)
    nudge_on = scenery.moment(FIRST_DAY - 4).date()
    return note_answer(job_id=job.pk, nudge_on=nudge_on, by=maren, at=at)


def _written(
    scenery: Scenery, series: Series, job: Job, days: int, at: datetime
) -> Booking:
    rows = scenery.rows
    starts_at = scenery.moment(days, series.starts)
    wish = BookingWish(
        place=rows[f"place.{series.place}"],
        starts_at=starts_at,
        ends_at=starts_at + timedelta(minutes=series.minutes),
        setting_up_minutes=20,
        packing_minutes=15,
        person_ids=tuple(rows[name].pk for name in series.crew),
        kit_item_ids=tuple(rows[f"kit.{name}"].pk for name in series.kit),
    )
    return propose_booking(job=job, wish=wish, by=rows["jory"], at=at)


def _book(scenery: Scenery, series: Series, booking: Booking, at: datetime) -> None:
    jory = scenery.rows["jory"]
    if series.is_firm:
        confirm_booking(booking_id=booking.pk, by=jory, at=at)
        return
    until = scenery.moment(HELD_FOR, "18:00")
    pencil_booking(booking_id=booking.pk, until=until, by=jory, at=at)


def _days(scenery: Scenery, series: Series) -> Iterator[int]:
    """Give the days of a series, Jory's holiday left out."""
    monday = _monday(scenery)
    for week in range(WEEKS):
        if week == HOLIDAY_WEEK and "jory" in series.crew:
            continue
        yield from (monday + 7 * week + weekday for weekday in series.weekdays)


def _monday(scenery: Scenery) -> int:
    """Return the first Monday of the month ahead, in days from today."""
    return FIRST_DAY + (-scenery.moment(FIRST_DAY).weekday()) % 7
