"""What readings say beside the plan, and what a place has taught so far."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from statistics import fmean

from jobs.bookings.models import Booking
from jobs.places.models import Place
from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.readings.models import Reading
from planning.shifts.queries import stops_words
from planning.shoots.levels import level_at
from planning.shoots.planned import PlannedSetUp, PlannedShoot

MOST_SHOWN = 12
NEAR = timedelta(hours=3)
"""A frame is of the session from so long before it until so long after."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownReading:
    """One reading in words."""

    pk: int
    at: datetime
    settings: str
    verdict: str
    sun: str
    sky: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceReadings:
    """What was read at a place, newest first, and what it comes to."""

    rows: tuple[ShownReading, ...]
    mean: str


def planned_at(
    shoot: PlannedShoot, planned: PlannedSetUp, at: datetime
) -> float | None:
    """Return the planned EV on the sitters at a moment; None where flash lights them.

    It is the plan as it stands, what an earlier frame moved it by among it.
    """
    if planned.is_flash_lit:
        return None
    return level_at(shoot, planned, shoot.light.moment(at)).exposure_value


def moment_of(booking: Booking, clock: time | None, now: datetime) -> datetime | None:
    """Return when a frame was taken: at a time of the session's day, or now.

    None where no time is given and the session is not on.
    """
    first, last = booking.starts_at - NEAR, booking.ends_at + NEAR
    if clock is None:
        return now if first <= now <= last else None
    zone = booking.place.zone
    at = datetime.combine(first.astimezone(zone).date(), clock, tzinfo=zone)
    return at if at >= first else at + timedelta(days=1)


def verdict_words(change_stops: float | None) -> str:
    """Return what a reading says of the plan: "0.7 stop darker than planned"."""
    if change_stops is None:
        return "not comparable: flash sets the exposure, or no set-up was named"
    return stops_words(change_stops)


def settings_words(reading: Reading) -> str:
    """Return a reading's settings by the names on the camera."""
    stops = (
        APERTURE_THIRDS.nearest(reading.f_number),
        SHUTTER_THIRDS.nearest(reading.shutter_s),
        ISO_THIRDS.nearest(reading.iso),
    )
    return ", ".join(stop.nominal for stop in stops)


def shown(reading: Reading) -> ShownReading:
    """Return a reading in words."""
    return ShownReading(
        pk=reading.pk,
        at=reading.read_at,
        settings=settings_words(reading),
        verdict=verdict_words(reading.change_stops),
        sun=f"sun {reading.sun_altitude_deg:.0f}°",
        sky=reading.sky,
        note=reading.note,
    )


def readings_of(booking_id: int) -> tuple[ShownReading, ...]:
    """Return the readings of a session, newest first."""
    return tuple(shown(one) for one in Reading.objects.filter(booking_id=booking_id))


def place_readings(place: Place) -> PlaceReadings:
    """Return the last readings of a place and their mean against the plans."""
    rows = list(Reading.objects.filter(booking__place=place)[:MOST_SHOWN])
    return PlaceReadings(rows=tuple(shown(one) for one in rows), mean=_mean(rows))


def _mean(rows: Iterable[Reading]) -> str:
    changes = (one.model_change_stops for one in rows)
    known = [one for one in changes if one is not None]
    if len(known) < 2:
        return ""
    return f"On the mean of {len(known)}: {verdict_words(fmean(known))}."
