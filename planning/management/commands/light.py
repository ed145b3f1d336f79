"""Say the sun, the light and the events of a day for a place and a moment."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.places.zones import time_zone_at
from planning.light.almanac import light_day
from planning.light.exposure import (
    SHUTTER_THIRDS,
    exposure_value_from_lux,
    shutter_for,
)
from planning.light.illuminance import (
    Sky,
    horizontal_lux,
    open_shade_lux,
    tolerance_stops,
    vertical_lux,
)
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
GROUND_REFLECTANCE = 0.2
F_NUMBER, ISO = 4.0, 100.0
LONGEST_S = 60.0
PLANES = {
    "horizontal": "level ground",
    "facing_sun": "a face turned to the sun",
    "open_shade": "open shade",
}


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


def _light(altitude_deg: float, sky: Sky, day: int) -> dict[str, float | str | None]:
    low, high = tolerance_stops(altitude_deg=altitude_deg, sky=sky)
    told: dict[str, float | str | None] = {
        "darker_by_stops": low,
        "brighter_by_stops": high,
    }
    for plane, lux in _lux(altitude_deg, sky, day).items():
        level = exposure_value_from_lux(lux)
        told[f"{plane}_lux"] = lux
        told[f"{plane}_exposure_value"] = level
        if level is not None:
            told[f"{plane}_at_f4_iso_100"] = _shutter(level)
            told[f"{plane}_at_f4_iso_100_darkest"] = _shutter(level - low)
            told[f"{plane}_at_f4_iso_100_brightest"] = _shutter(level + high)
    return told


def _lux(altitude_deg: float, sky: Sky, day: int) -> dict[str, float]:
    return {
        "horizontal": horizontal_lux(
            altitude_deg=altitude_deg, sky=sky, day_of_year=day
        ),
        "facing_sun": vertical_lux(
            altitude_deg=altitude_deg,
            sky=sky,
            day_of_year=day,
            relative_azimuth_deg=0.0,
            ground_reflectance=GROUND_REFLECTANCE,
        ),
        "open_shade": open_shade_lux(
            altitude_deg=altitude_deg,
            sky=sky,
            day_of_year=day,
            relative_azimuth_deg=SIDE_ON_DEG,
        ),
    }


def _shutter(level: float) -> str:
    """Return the nearest third-stop shutter for a level at f/4 and ISO 100."""
    exact = shutter_for(exposure_value=level, f_number=F_NUMBER, iso=ISO)
    if exact > LONGEST_S:
        return f"{exact / 60.0:,.0f} min"
    return SHUTTER_THIRDS.nearest(exact).nominal


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
        lines += _sky_lines(sky.lower().replace("_", " "), level)
    lines.append(f"Events of {events['on']} by the clock of {zone}:")
    for name in EVENTS:
        if events[name]:
            local = datetime.fromisoformat(events[name]).astimezone(zone)
            lines.append(f"  {name.replace('_', ' ')} {local:%d %b %H:%M:%S}")
    lines.append(f"  sun {events['sun_state']}; moon {events['moon_fraction']:.0%} lit")
    return lines


def _sky_lines(sky: str, level: dict[str, Any]) -> list[str]:
    lines = [
        f"{sky} (up to {level['darker_by_stops']:.1f} stops darker, "
        f"{level['brighter_by_stops']:.1f} brighter):"
    ]
    for plane, words in PLANES.items():
        told = f"  {words}: {_lux_words(level[f'{plane}_lux'])}"
        if level[f"{plane}_exposure_value"] is not None:
            f4 = f"{plane}_at_f4_iso_100"
            told += (
                f", EV {level[f'{plane}_exposure_value']:.1f}; f/4 at ISO 100 needs "
                f"{level[f4]} ({level[f'{f4}_darkest']} to {level[f'{f4}_brightest']})"
            )
        lines.append(told)
    return lines


def _lux_words(lux: float) -> str:
    return f"{lux:,.0f} lx" if lux >= 100.0 else f"{lux:.2g} lx"
