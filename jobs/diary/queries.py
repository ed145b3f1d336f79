"""The diary: days with their light, and the sessions in them."""

from __future__ import annotations

from calendar import MONDAY, Calendar
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from django.db.models import Prefetch

from jobs.away.models import BlockedTime
from jobs.away.queries import away_words, blocked_during
from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.bookings.words import clock_words
from jobs.diary.daylight import Booked, Spot, shared_window, strip_on, sun_words
from jobs.diary.dragging import blocked_by, handle_of, kept_by
from jobs.diary.shown import AwayLine, DiaryDay, DiarySession
from jobs.slotdays.queries import count_words, with_taken
from studio.profile.models import StudioProfile
from studio.scene.day_phases import DAY_MINUTES
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing
from studio.timespan import TimeSpan

WEEK_STRIP: Final = StripLook(width=1080.0, height=24.0, type_size=14.0)
WEEK_STRIP_NARROW: Final = StripLook(width=330.0, height=20.0, type_size=12.0)
MONTH_STRIP: Final = StripLook(width=150.0, height=11.0, hours=False)
LIST_DAYS: Final = 56
FIRST_YEAR: Final = 1902
LAST_YEAR: Final = 2198


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """How the strips of a page are drawn, all over one part of the day."""

    spot: Spot | None
    home: ZoneInfo
    window: tuple[float, float]
    wide: StripLook
    narrow: StripLook | None


def week_of(on: date) -> list[date]:
    """Return the seven days of a day's week, from Monday."""
    monday = on - timedelta(days=on.weekday())
    return [monday + timedelta(days=days) for days in range(7)]


def month_of(on: date) -> list[list[date]]:
    """Return the weeks of a day's month, whole weeks from Monday."""
    return Calendar(MONDAY).monthdatescalendar(on.year, on.month)


def diary_day(on: date, *, at: datetime) -> list[DiaryDay]:
    """Return one day with its sessions. Four queries."""
    return _days([on], at=at, wide=WEEK_STRIP, narrow=WEEK_STRIP_NARROW)


def diary_list(on: date, *, at: datetime) -> list[DiaryDay]:
    """Return the days of eight weeks that hold something. Four queries."""
    days = [on + timedelta(days=days) for days in range(LIST_DAYS)]
    full = _days(days, at=at, wide=WEEK_STRIP, narrow=WEEK_STRIP_NARROW)
    return [day for day in full if day.sessions or day.away or day.is_today]


def diary_week(on: date, *, at: datetime) -> list[DiaryDay]:
    """Return the days of a week with their sessions. Four queries."""
    return _days(week_of(on), at=at, wide=WEEK_STRIP, narrow=WEEK_STRIP_NARROW)


def diary_month(on: date, *, at: datetime) -> list[list[DiaryDay]]:
    """Return the weeks of a month with their sessions. Four queries."""
    weeks = month_of(on)
    days = [day for week in weeks for day in week]
    drawn = {day.on: day for day in _days(days, at=at, wide=MONTH_STRIP)}
    return [[drawn[day] for day in week] for week in weeks]


def home_spot(profile: StudioProfile) -> Spot | None:
    """Return where the studio is at home, None where nobody has said."""
    if profile.home_latitude is None or profile.home_longitude is None:
        return None
    return Spot(
        latitude_deg=profile.home_latitude,
        longitude_deg=profile.home_longitude,
        time_zone=profile.time_zone,
    )


def _days(
    days: Sequence[date],
    *,
    at: datetime,
    wide: StripLook,
    narrow: StripLook | None = None,
) -> list[DiaryDay]:
    profile = StudioProfile.load()
    zone, spot = profile.zone, home_spot(profile)
    look = _Look(
        spot=spot,
        home=zone,
        window=shared_window(spot, days) if spot else (0.0, DAY_MINUTES),
        wide=wide,
        narrow=narrow,
    )
    whole = TimeSpan(_midnight(days[0], zone), _after(days[-1], zone))
    bookings = list(
        with_taken(Booking.objects.live().during(whole))
        .select_related("job__client", "place")
        .prefetch_related(_wanted())
        .order_by("starts_at", "pk")
    )
    blocked = blocked_during(whole)
    today = at.astimezone(zone).date()
    return [
        replace(
            _day(day, _on(bookings, day, zone), look, at if day == today else None),
            away=tuple(_away(blocked, day, zone)),
        )
        for day in days
    ]


def _wanted() -> Prefetch[str]:
    rows = Reservation.objects.select_related("person").order_by("pk")
    return Prefetch("reservations", queryset=rows, to_attr="wanted")


def _away(
    blocked: Iterable[BlockedTime], on: date, zone: ZoneInfo
) -> Iterator[AwayLine]:
    for row in blocked:
        for words in away_words([row], _whole(on, zone), zone):
            yield AwayLine(words=words, keeps=blocked_by(row, zone))


def _day(
    on: date, bookings: Sequence[Booking], look: _Look, now: datetime | None
) -> DiaryDay:
    return DiaryDay(
        on=on,
        is_today=now is not None,
        light=sun_words(look.spot, on) if look.spot else "",
        strip=_strip(on, bookings, look, look.wide, now),
        narrow_strip=_strip(on, bookings, look, look.narrow, now),
        sessions=tuple(_session(one, on, look.home) for one in bookings),
        first_minute=round(look.window[0]),
        last_minute=round(look.window[1]),
    )


def _strip(
    on: date,
    bookings: Iterable[Booking],
    look: _Look,
    drawn: StripLook | None,
    now: datetime | None,
) -> Drawing | None:
    if look.spot is None or drawn is None:
        return None
    booked = [
        Booked(
            starts_at=one.starts_at,
            ends_at=one.ends_at,
            held=one.status == BookingStatus.PENCILLED,
        )
        for one in bookings
        if one.is_holding
    ]
    return strip_on(
        look.spot, on, booked=booked, now=now, look=drawn, window=look.window
    )


def _session(booking: Booking, on: date, home: ZoneInfo) -> DiarySession:
    start, end = booking.local_start, booking.local_end
    from_words, until = clock_words(start), clock_words(end)
    if start.date() != on:
        from_words = f"{start:%a} {from_words}"
    if end.date() != start.date():
        until = f"{end:%a} {until}"
    if start.utcoffset() != start.astimezone(home).utcoffset():
        until += f", {booking.place.clock_name} time"
    return DiarySession(
        url=booking.get_absolute_url(),
        title=booking.job.title,
        client=booking.job.client.name,
        clocks=f"{from_words}–{until}",
        starts_at=from_words,
        place=booking.place.name,
        status=booking.status,
        status_words=booking.get_status_display(),
        keeps=kept_by(booking, home),
        handle=handle_of(booking, home),
        people=", ".join(_people(booking)),
        held_until=booking.held_until,
        taken=count_words(booking),
    )


def _people(booking: Booking) -> list[str]:
    rows = booking.__dict__["wanted"]
    return [str(row.person) for row in rows if row.person_id]


def _on(bookings: Iterable[Booking], day: date, zone: ZoneInfo) -> list[Booking]:
    span = _whole(day, zone)
    return [booking for booking in bookings if booking.span.overlaps(span)]


def _whole(day: date, zone: ZoneInfo) -> TimeSpan:
    return TimeSpan(_midnight(day, zone), _after(day, zone))


def _midnight(day: date, zone: ZoneInfo) -> datetime:
    return datetime.combine(day, time(), tzinfo=zone)


def _after(day: date, zone: ZoneInfo) -> datetime:
    return _midnight(day + timedelta(days=1), zone)
