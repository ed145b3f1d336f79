"""Sessions of a day and of the days to come, with their daylight."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from jobs.bookings.models import LONGEST, Booking
from jobs.bookings.states import BookingStatus
from jobs.diary.daylight import Booked, Spot, events_on, strip_on
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing
from studio.timespan import TimeSpan

WIDE: Final = StripLook(width=1030, height=40, type_size=16)
PHONE: Final = StripLook(width=330, height=26, type_size=12)
SMALL: Final = StripLook(width=300, height=16, hours=False)
AHEAD: Final = timedelta(days=92)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownSession:
    """A session as a card shows it: when, where, and its day's light as strips."""

    booking: Booking
    day: date
    span: TimeSpan
    zone: ZoneInfo
    sunrise: datetime | None
    sunset: datetime | None
    wide_strip: Drawing
    phone_strip: Drawing
    small_strip: Drawing

    @property
    def is_held(self) -> bool:
        """Whether the session is only pencilled in."""
        return self.booking.status == BookingStatus.PENCILLED

    @property
    def sun_words(self) -> str:
        """What the sun does to the session; nothing for a room without a say in it."""
        if self.booking.place.is_room or self.sunset is None:
            return ""
        clock = f"{self.sunset.astimezone(self.zone):%H:%M}"
        if self.span.start < self.sunset < self.span.end:
            return f"Sun sets at {clock}, inside the session"
        return f"Sun sets at {clock}"


def sessions_of_today(at: datetime) -> list[ShownSession]:
    """Return the sessions that fall on today, by the clock of each one's place."""
    near = (
        Booking.objects.holding()
        .chosen()
        .filter(
            starts_at__lt=at + timedelta(days=2),
            starts_at__gt=at - timedelta(days=2) - LONGEST,
            ends_at__gt=at - timedelta(days=2),
        )
    )
    found = near.select_related("place", "job__client").order_by("starts_at", "pk")
    shown = [(one, at.astimezone(one.place.zone).date()) for one in found]
    return [
        show_session(booking, on=today, now=at)
        for booking, today in shown
        if _is_on(booking, today)
    ]


def next_sessions(at: datetime, *, most: int = 3) -> list[ShownSession]:
    """Return the next sessions after today."""
    coming = (
        Booking.objects.holding()
        .chosen()
        .filter(starts_at__gt=at, starts_at__lt=at + AHEAD)
    )
    found = coming.select_related("place", "job__client").order_by("starts_at", "pk")
    later = [one for one in found[: most + 8] if not _is_on(one, _today(one, at))]
    return [show_session(one, on=one.local_start.date()) for one in later[:most]]


def show_session(
    booking: Booking, *, on: date, now: datetime | None = None
) -> ShownSession:
    """Return a session with the light of one of its days."""
    place = booking.place
    spot = Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )
    booked = Booked(
        starts_at=booking.starts_at,
        ends_at=booking.ends_at,
        held=booking.status == BookingStatus.PENCILLED,
    )
    wide, phone, small = (
        strip_on(spot, on, booked=[booked], now=now, look=look)
        for look in (WIDE, PHONE, SMALL)
    )
    light = events_on(spot, on)
    return ShownSession(
        booking=booking,
        day=on,
        span=booking.span,
        zone=place.zone,
        sunrise=light.sunrise,
        sunset=light.sunset,
        wide_strip=wide,
        phone_strip=phone,
        small_strip=small,
    )


def _today(booking: Booking, at: datetime) -> date:
    return at.astimezone(booking.place.zone).date()


def _is_on(booking: Booking, day: date) -> bool:
    midnight = datetime.combine(day, time(), tzinfo=booking.place.zone)
    after = datetime.combine(day + timedelta(days=1), time(), tzinfo=booking.place.zone)
    start, end = midnight.astimezone(UTC), after.astimezone(UTC)
    return booking.starts_at < end and booking.ends_at > start
