"""Say the sun, the light and the events of a day for a place and a moment."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.places.zones import time_zone_at
from planning.light.almanac import light_day
from planning.light.exposure import exposure_value_from_lux
from planning.light.illuminance import Sky, horizontal_lux, open_shade_lux
from planning.light.sun import sun_position

EVENTS = (
    "astronomical_dawn",
    "nautical_dawn",
    "civil_dawn",
    "sunrise",
    "solar_noon",
    "sunset",
    "civil_dusk",
    "nautical_dusk",
    "astronomical_dusk",
    "moonrise",
    "moonset",
)
SIDE_ON_DEG = 90.0


class Command(BaseCommand):
    """Say what the light models give; nothing is read from the database."""

    help = "Sun, light and events of the day for a place and moment."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the moment and the place; a moment without an offset is UTC."""
        parser.add_argument("--at", required=True, metavar="ISO-TIME")
        parser.add_argument("--latitude", type=float, required=True)
        parser.add_argument("--longitude", type=float, required=True)
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the figures, in words or as JSON."""
        try:
            at = datetime.fromisoformat(options["at"])
            told = _told(at, options["latitude"], options["longitude"])
        except ValueError as fault:
            raise CommandError(str(fault)) from None
        if options["json"]:
            self.stdout.write(json.dumps(told, indent=2))
            return
        for line in _lines(told):
            self.stdout.write(line)


def _told(at: datetime, latitude_deg: float, longitude_deg: float) -> dict[str, Any]:
    moment = at.replace(tzinfo=UTC) if at.tzinfo is None else at.astimezone(UTC)
    sun = sun_position(
        latitude_deg=latitude_deg, longitude_deg=longitude_deg, at=moment
    )
    zone = ZoneInfo(time_zone_at(latitude_deg, longitude_deg))
    local = moment.astimezone(zone)
    altitude_deg = float(sun.altitude_deg)
    return {
        "at": moment.isoformat(),
        "latitude_deg": latitude_deg,
        "longitude_deg": longitude_deg,
        "time_zone": str(zone),
        "sun": {
            "altitude_deg": altitude_deg,
            "apparent_altitude_deg": float(sun.apparent_altitude_deg),
            "azimuth_deg": float(sun.azimuth_deg),
        },
        "light": {
            sky.name: _light(altitude_deg, sky, local.timetuple().tm_yday)
            for sky in Sky
        },
        "events": _events(latitude_deg, longitude_deg, local),
    }


def _light(altitude_deg: float, sky: Sky, day: int) -> dict[str, float | None]:
    level = horizontal_lux(altitude_deg=altitude_deg, sky=sky, day_of_year=day)
    shade = open_shade_lux(
        altitude_deg=altitude_deg,
        sky=sky,
        day_of_year=day,
        relative_azimuth_deg=SIDE_ON_DEG,
    )
    return {
        "horizontal_lux": level,
        "horizontal_exposure_value": exposure_value_from_lux(level),
        "open_shade_lux": shade,
        "open_shade_exposure_value": exposure_value_from_lux(shade),
    }


def _events(
    latitude_deg: float, longitude_deg: float, local: datetime
) -> dict[str, Any]:
    zone = ZoneInfo(str(local.tzinfo))
    day = light_day(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        on=local.date(),
        tz=zone,
    )
    told: dict[str, Any] = {"on": local.date().isoformat()}
    for name in EVENTS:
        at = getattr(day, name)
        told[name] = at.isoformat() if at else None
    return told | {"moon_fraction": day.moon_fraction, "sun_state": day.sun_state}


def _lines(told: dict[str, Any]) -> list[str]:
    sun, events = told["sun"], told["events"]
    zone = ZoneInfo(told["time_zone"])
    lines = [
        f"{told['latitude_deg']:g}, {told['longitude_deg']:g} at {told['at']}",
        f"Sun {sun['altitude_deg']:.3f}° high, from {sun['azimuth_deg']:.3f}°",
    ]
    for sky, level in told["light"].items():
        name = sky.lower().replace("_", " ")
        lines.append(
            f"{name}: {level['horizontal_lux']:,.4g} lx on level ground, "
            f"EV {level['horizontal_exposure_value']:.1f}; "
            f"{level['open_shade_lux']:,.4g} lx in open shade, "
            f"EV {level['open_shade_exposure_value']:.1f}"
        )
    lines.append(f"Events of {events['on']} by the clock of {zone}:")
    for name in EVENTS:
        if events[name]:
            local = datetime.fromisoformat(events[name]).astimezone(zone)
            lines.append(f"  {name.replace('_', ' ')} {local:%d %b %H:%M:%S}")
    lines.append(f"  sun {events['sun_state']}; moon {events['moon_fraction']:.0%} lit")
    return lines
