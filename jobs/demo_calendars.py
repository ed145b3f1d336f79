"""The demo's calendars: two feeds, a busy week, and a session in two calendars."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Final

from jobs.calendars.busy import take_file
from jobs.calendars.events import EventRow, Firmness, Method, Told, write_calendar
from jobs.calendars.feeds import open_feed, refresh_feeds
from jobs.calendars.invitations import Round, guest_rows, send_round
from jobs.calendars.models import Detail
from studio.demo import Scenery

OPENED_ON: Final = -30
INVITED_ON: Final = -5
BUSY: Final = ((2, "17:00", 90), (4, "09:00", 240), (9, "13:00", 60))


def tell_of_calendars(scenery: Scenery) -> None:
    """Open feeds, read a planner's own calendar, and invite to the next session."""
    scenery.then(OPENED_ON, "08:40", lambda at: _open(scenery, at))
    scenery.then(INVITED_ON, "09:30", lambda at: _invite(scenery, at))
    scenery.then(-1, "18:00", lambda at: _read(scenery, at))
    scenery.then(-1, "23:50", lambda at: refresh_feeds(at=at))


def _open(scenery: Scenery, at: datetime) -> None:
    for name, detail in (("maren", Detail.PLACES), ("jory", Detail.TIMES)):
        open_feed(person=scenery.rows[name], detail=detail, alarm_minutes=60, at=at)


def _invite(scenery: Scenery, at: datetime) -> None:
    booking = scenery.rows["booking.brass"]
    rows = guest_rows(booking)
    sent = Round(
        guests=tuple(row.guest for row in rows),
        words="Keep this evening free, please. The harbour gate is open from five.",
    )
    send_round(booking_id=booking.pk, sent=sent, by=scenery.rows["maren"], at=at)


def _read(scenery: Scenery, at: datetime) -> None:
    events = []
    for place, (days, clock, minutes) in enumerate(BUSY):
        start = scenery.moment(days, clock).astimezone(UTC)
        told = Told(
            starts_at=start,
            ends_at=start + timedelta(minutes=minutes),
            title="Busy",
            firmness=Firmness.CONFIRMED,
        )
        uid = f"busy-{place}@home.example"
        events.append(EventRow(uid=uid, told=told, sequence=0, changed_at=at))
    content = write_calendar(events, method=Method.PUBLISH)
    take_file(person=scenery.rows["jory"], name="Family", content=content, at=at)
