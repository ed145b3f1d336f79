"""The search again, slowly: pvlib's SPA and plain loops over minutes of UTC."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import numpy as np
from pvlib import spa

from planning.finder.wishes import Hours, Kind, Side, Wish
from planning.shoots.daylight import Where
from planning.sites.skyline import Horizon, Stretch

MINUTE = timedelta(minutes=1)
COAST = Where(
    latitude_deg=54.47,
    longitude_deg=-0.62,
    time_zone="Europe/London",
    skyline=(
        Stretch(from_deg=225, to_deg=262, height_deg=6.5, name="headland"),
        Stretch(from_deg=60, to_deg=110, height_deg=24, name="limes"),
    ),
)


def make_wish(first_on: date, days: int, **fields: Any) -> Wish:
    """Make a wish for low sun; fields of its hours are given with the others."""
    names = {"weekdays", "from_minute", "until_minute", "access_from", "access_until"}
    hours = {name: fields.pop(name) for name in names & set(fields)}
    values: dict[str, Any] = {
        "kind": Kind.LOW_SUN,
        "not_before": datetime(2000, 1, 1, tzinfo=UTC),
        "hours": Hours(first_on=first_on, days=days, **hours),
    } | fields
    return Wish(**values)


def minutes_of(wish: Wish, where: Where) -> list[datetime]:
    """Return the minutes from the first midnight to a day after the last."""
    zone, first = where.zone, wish.hours.first_on
    start = datetime.combine(first, time(), zone).astimezone(UTC)
    last = first + timedelta(days=wish.hours.days + 1)
    stop = datetime.combine(last, time(), zone).astimezone(UTC)
    return [start + MINUTE * one for one in range(int((stop - start) / MINUTE))]


def sun_by_spa(times: list[datetime], where: Where) -> Iterator[tuple[float, float]]:
    """Give the sun's altitude without air and its azimuth, as pvlib has them."""
    rows = np.asarray(
        spa.solar_position(
            np.array([at.timestamp() for at in times]),
            where.latitude_deg,
            where.longitude_deg,
            0.0,
            1010.0,
            10.0,
            69.1,
            0.5667,
        )
    )
    return zip((90.0 - rows[1]).tolist(), rows[4].tolist(), strict=True)


def lit_by_spa(wish: Wish, where: Where) -> dict[datetime, bool]:
    """Return for each minute whether the light is the wanted one."""
    times = minutes_of(wish, where)
    places = sun_by_spa(times, where)
    return {
        at: _is_lit(wish, where, at, altitude, azimuth)
        for at, (altitude, azimuth) in zip(times, places, strict=True)
    }


def _is_lit(
    wish: Wish, where: Where, at: datetime, altitude: float, azimuth: float
) -> bool:
    low, high = wish.band
    if not low <= altitude <= high:
        return False
    return _reaches(wish, where, at, altitude, azimuth) and _fits(wish, azimuth)


def _reaches(
    wish: Wish, where: Where, at: datetime, altitude: float, azimuth: float
) -> bool:
    if wish.kind is Kind.TWILIGHT:
        return True
    if wish.opening:
        aside = abs((azimuth - wish.opening.facing_deg + 180) % 360 - 180)
        falls = aside < 90 and altitude > wish.opening.obstruction_deg
        return falls is (wish.kind is Kind.WINDOW_SUN)
    ridge = Horizon(
        stretches=where.skyline,
        profile=where.profile,
        marks=where.marks,
        estimated=where.estimated,
        on=at.astimezone(where.zone).date(),
    ).at(azimuth)
    if wish.kind is Kind.SHADE:
        return ridge is not None and altitude < ridge.height_deg - ridge.error_deg
    return ridge is None or altitude > ridge.height_deg + ridge.error_deg


def _fits(wish: Wish, azimuth: float) -> bool:
    if wish.side is Side.ANY or wish.facing_deg is None:
        return True
    turn = (azimuth - wish.facing_deg + 180) % 360 - 180  # clockwise is to the right
    return {
        Side.RIGHT: 45 <= turn <= 135,
        Side.LEFT: -135 <= turn <= -45,
        Side.FRONT: abs(turn) <= 45,
        Side.BEHIND: abs(turn) >= 135,
    }[wish.side]


def starts_by_hand(
    wish: Wish, where: Where, lit: dict[datetime, bool]
) -> dict[datetime, int]:
    """Return the possible starts by plain loops, each with its minutes of light."""
    found = {}
    for start in lit:
        if start.minute % 15 or not _is_asked(wish, where, start):
            continue
        held = [lit.get(start + MINUTE * one, False) for one in range(wish.minutes)]
        if sum(held) >= wish.minutes * wish.share:
            found[start] = sum(held)
    return found


def _is_asked(wish: Wish, where: Where, start: datetime) -> bool:
    hours, zone = wish.hours, where.zone
    local = start.astimezone(zone).replace(tzinfo=None)
    end = (start + MINUTE * wish.minutes).astimezone(zone).replace(tzinfo=None)
    days = [hours.first_on + timedelta(days=one) for one in range(hours.days)]
    for on in days:
        opens = datetime.combine(on, time()) + MINUTE * hours.from_minute
        closes = opens + MINUTE * hours.width_minutes
        if opens <= local and end <= closes and local < opens + timedelta(days=1):
            return on.weekday() in hours.weekdays
    return False
