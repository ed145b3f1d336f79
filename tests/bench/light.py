"""How fast the light is, as ratios: `uv run python -m tests.bench.light`.

Goals: a year of five-minute sun positions at least 60 times as fast as pvlib's SPA and
in at most twice the time of its trigonometry alone; a year of sun events 3 times as
fast as pvlib (which gives three a day), 20 times as fast as ephem and within a second;
a year of light on a subject in at most ten times the time of the trigonometry. What
ephem, skyfield and a whole pvlib chain take for the same year is measured beside it.
"""

from collections.abc import Callable
from datetime import date
from functools import partial
from itertools import product
from zoneinfo import ZoneInfo

import ephem
import numpy as np
import pandas as pd
from pvlib import atmosphere, clearsky, irradiance, spa
from pvlib.solarposition import sun_rise_set_transit_spa
from skyfield.nutationlib import iau2000b_radians

from planning.light import nodes
from planning.light.almanac import light_days, sun_events
from planning.light.illuminance import Sky, vertical_lux
from planning.light.moments import FloatArray
from planning.light.sun import sun_position
from tests.bench.pairwise import Samples, Work, in_turn, milliseconds, ratio
from tests.planning.light.ephemeris import FullEphemeris, full_ephemeris

LATITUDE_DEG, LONGITUDE_DEG = 52.37, 4.9
CLOCK = ZoneInfo("Europe/Amsterdam")
FIRST_ON, DAYS = date(2026, 1, 1), 365
YEAR = np.datetime64("2026-01-01") + np.arange(DAYS * 288) * np.timedelta64(5, "m")
YEAR_US = YEAR.astype("datetime64[us]")
YEAR_S = YEAR_US.astype(np.int64) / 1e6
YEAR_DAYS = YEAR_S / 86_400.0
DAY_OF_YEAR = np.repeat(np.arange(1, DAYS + 1), 288)
ANGLES = np.linspace(-3.0, 3.0, YEAR.size)
MIDNIGHTS = pd.date_range("2026-01-01", periods=DAYS, freq="D", tz="UTC")
EPHEM_1970 = float(ephem.Date("1970/1/1"))
EPHEM_HORIZONS = ("-0:50", "-6", "-12", "-18")


def forget() -> None:
    """Drop the nodes kept from earlier calls: what a fresh process starts with."""
    nodes._sun_node.cache_clear()
    nodes._moon_node.cache_clear()


def trigonometry() -> None:
    sine, cosine = np.sin(ANGLES), np.cos(ANGLES)
    np.arcsin(sine)
    np.arctan2(sine, cosine)


def positions() -> None:
    sun_position(latitude_deg=LATITUDE_DEG, longitude_deg=LONGITUDE_DEG, at=YEAR_US)


def positions_afresh() -> None:
    forget()
    positions()


def positions_by_spa() -> FloatArray:
    """Return pvlib's rows: apparent zenith, zenith and onwards, in degrees."""
    rows: FloatArray = np.asarray(
        spa.solar_position(
            YEAR_S, LATITUDE_DEG, LONGITUDE_DEG, 0.0, 1010.0, 10.0, 69.1, 0.5667
        )
    )
    return rows


def positions_by_ephem() -> list[tuple[float, float]]:
    """Ask ephem for each moment by itself, the only way it has; radians."""
    observer, sun = ephem.Observer(), ephem.Sun()
    observer.lat, observer.lon = str(LATITUDE_DEG), str(LONGITUDE_DEG)
    observer.pressure = 0.0
    found = []
    for day in (YEAR_DAYS + EPHEM_1970).tolist():
        observer.date = day
        sun.compute(observer)
        found.append((sun.alt, sun.az))  # ephem works an angle out when it is read
    return found


def positions_by_skyfield(ephemeris: FullEphemeris) -> FloatArray:
    """Return altitudes by skyfield with its quicker nutation (IAU 2000B)."""
    moments = ephemeris.moments(YEAR_DAYS)
    moments._nutation_angles_radians = iau2000b_radians(moments)
    place = ephemeris.observer(LATITUDE_DEG, LONGITUDE_DEG)
    seen = place.at(moments).observe(ephemeris.bodies["sun"])
    altitudes: FloatArray = seen.apparent().altaz()[0].degrees
    return altitudes


def light_by_pvlib() -> FloatArray:
    """Return irradiance on the same upright plane: SPA, simplified Solis, isotropic.

    Another model of the same thing, in watts; it has no twilight and no night.
    """
    apparent_zenith, zenith, apparent_elevation, _elevation, azimuth, _ = (
        positions_by_spa()
    )
    sky = clearsky.simplified_solis(apparent_elevation)
    extra = irradiance.get_extra_radiation(DAY_OF_YEAR)
    atmosphere.get_relative_airmass(apparent_zenith)
    plane = irradiance.get_total_irradiance(
        90.0,
        150.0,
        zenith,
        azimuth,
        sky["dni"],
        sky["ghi"],
        sky["dhi"],
        dni_extra=extra,
        albedo=0.2,
    )
    result: FloatArray = np.asarray(plane["poa_global"])
    return result


def light_on_a_subject() -> None:
    sun = sun_position(
        latitude_deg=LATITUDE_DEG, longitude_deg=LONGITUDE_DEG, at=YEAR_US
    )
    vertical_lux(
        altitude_deg=sun.altitude_deg,
        sky=Sky.CLEAR,
        day_of_year=DAY_OF_YEAR,
        relative_azimuth_deg=sun.azimuth_deg - 150.0,
        ground_reflectance=0.2,
    )


def events() -> None:
    sun_events(
        latitude_deg=LATITUDE_DEG,
        longitude_deg=LONGITUDE_DEG,
        first_on=FIRST_ON,
        days=DAYS,
        tz=CLOCK,
    )


def events_afresh() -> None:
    forget()
    events()


def days_of_light() -> None:
    light_days(
        latitude_deg=LATITUDE_DEG,
        longitude_deg=LONGITUDE_DEG,
        first_on=FIRST_ON,
        days=DAYS,
        tz=CLOCK,
    )


def events_by_spa() -> None:
    sun_rise_set_transit_spa(MIDNIGHTS, LATITUDE_DEG, LONGITUDE_DEG)


def events_by_ephem() -> int:
    """Return how many events ephem finds in the 12 h around each noon, 8 a day."""
    observer, sun = ephem.Observer(), ephem.Sun()
    observer.lat, observer.lon = str(LATITUDE_DEG), str(LONGITUDE_DEG)
    observer.pressure = 0.0
    found = 0
    first = ephem.Date("2026/1/1 11:40")
    for noon, horizon in product(range(DAYS), EPHEM_HORIZONS):
        observer.horizon = horizon
        for search in (observer.previous_rising, observer.next_setting):
            observer.date = first + noon
            try:
                event = search(sun, use_center=True)
            except (ephem.AlwaysUpError, ephem.NeverUpError):
                continue
            found += abs(event - first - noon) < 0.51
    return found


POSITIONS: dict[str, Work] = {
    "trigonometry alone": trigonometry,
    "positions": positions,
    "positions, nothing kept": positions_afresh,
    "light on a subject": light_on_a_subject,
    "positions by SPA": positions_by_spa,
}
OTHERS: dict[str, Callable[[FullEphemeris], Work]] = {
    "positions": lambda _: positions,
    "light on a subject": lambda _: light_on_a_subject,
    "positions by ephem": lambda _: positions_by_ephem,
    "positions by skyfield": lambda one: partial(positions_by_skyfield, one),
    "light by pvlib": lambda _: light_by_pvlib,
}
EVENTS: dict[str, Work] = {
    "sun events": events,
    "sun events, nothing kept": events_afresh,
    "whole days with the moon": days_of_light,
    "three a day by SPA": events_by_spa,
    "eight a day by ephem": events_by_ephem,
}


def report(title: str, samples: Samples, pairs: list[tuple[str, str, str]]) -> None:
    """Print one table: medians first, then the ratios with their goals."""
    print(f"\n{title}")
    for name in samples:
        print(f"  {name:<28}{milliseconds(samples, name):10.2f} ms of CPU")
    for slow, quick, goal in pairs:
        print(f"  {slow} / {quick}: {ratio(samples, slow, quick)}  goal {goal}")


def beside_others(rounds: int) -> Samples:
    """Return the seconds of positions and light, and of other libraries for them."""
    with full_ephemeris() as ephemeris:
        works = {name: work(ephemeris) for name, work in OTHERS.items()}
        return in_turn(works, rounds=rounds)


def main() -> None:
    """Run the tables."""
    report(
        f"A year of positions every five minutes ({YEAR.size})",
        in_turn(POSITIONS, rounds=15),
        [
            ("positions by SPA", "positions", ">= 60"),
            ("positions by SPA", "positions, nothing kept", ">= 60"),
            ("positions", "trigonometry alone", "<= 2"),
            ("positions, nothing kept", "trigonometry alone", "<= 2"),
            ("light on a subject", "trigonometry alone", "<= 10"),
        ],
    )
    report(
        "The same year by others",
        beside_others(rounds=5),
        [
            ("positions by ephem", "positions", "none set"),
            ("positions by skyfield", "positions", "none set"),
            ("light by pvlib", "light on a subject", "none set"),
        ],
    )
    report(
        f"A year of sun events, {8 * DAYS} and the noons",
        in_turn(EVENTS, rounds=15),
        [
            ("three a day by SPA", "sun events", ">= 3"),
            ("three a day by SPA", "sun events, nothing kept", ">= 3"),
            ("eight a day by ephem", "sun events", ">= 20"),
            ("eight a day by ephem", "sun events, nothing kept", ">= 20"),
        ],
    )


if __name__ == "__main__":
    main()
