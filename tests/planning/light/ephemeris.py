"""A full ephemeris to test against: skyfield with JPL's DE421, universal time."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import skyfield_data
from skyfield import almanac
from skyfield.api import load, load_file, wgs84

from planning.light.moments import FloatArray, Instants

JULIAN_1970 = 2_440_587.5
EARTH_RADIUS_KM = 6378.1366


class FullEphemeris:
    """Places of sun and moon; moments are days since 1970-01-01, UTC taken as UT1."""

    def __init__(self, bodies: Any) -> None:
        self.bodies = bodies
        self.clock = load.timescale(builtin=True)

    def moments(self, days: FloatArray) -> Any:
        return self.clock.ut1_jd(JULIAN_1970 + days)

    def observer(self, latitude_deg: float, longitude_deg: float) -> Any:
        return self.bodies["earth"] + wgs84.latlon(latitude_deg, longitude_deg)

    def altitude_azimuth(
        self, body: str, latitude_deg: float, longitude_deg: float, days: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        place = self.observer(latitude_deg, longitude_deg)
        seen = place.at(self.moments(days)).observe(self.bodies[body])
        altitude, azimuth, _distance = seen.apparent().altaz()
        return altitude.degrees, azimuth.degrees

    def sun_altitude(
        self, latitude_deg: float, longitude_deg: float, days: FloatArray
    ) -> FloatArray:
        return self.altitude_azimuth("sun", latitude_deg, longitude_deg, days)[0]

    def moon_above_horizon(
        self, latitude_deg: float, longitude_deg: float, days: FloatArray
    ) -> FloatArray:
        """Return degrees of the moon's upper limb above a horizon of 34' refraction."""
        place = self.observer(latitude_deg, longitude_deg)
        seen = place.at(self.moments(days)).observe(self.bodies["moon"])
        altitude, _azimuth, distance = seen.apparent().altaz()
        limb = np.degrees(np.arcsin(1737.4 / distance.km))
        height: FloatArray = altitude.degrees + limb + 34.0 / 60.0
        return height

    def moon_phase_angle(self, days: FloatArray) -> FloatArray:
        angle = almanac.phase_angle(self.bodies, "moon", self.moments(days))
        result: FloatArray = angle.degrees
        return result

    def moon_parallax(self, days: FloatArray) -> FloatArray:
        seen = self.bodies["earth"].at(self.moments(days)).observe(self.bodies["moon"])
        parallax: FloatArray = np.degrees(
            np.arcsin(EARTH_RADIUS_KM / seen.apparent().distance().km)
        )
        return parallax

    def noons(self, longitude_deg: float, first_day: float, last_day: float) -> Any:
        """Return the moments at which the sun crosses the meridian, in days."""
        place = self.observer(0.0, longitude_deg)
        span = self.moments(np.array([first_day, last_day]))
        found = almanac.find_transits(place, self.bodies["sun"], span[0], span[1])
        return found.ut1 - JULIAN_1970


@contextmanager
def full_ephemeris() -> Iterator[FullEphemeris]:
    file = Path(skyfield_data.__file__).parent / "data" / "de421.bsp"
    bodies = load_file(str(file))
    try:
        yield FullEphemeris(bodies)
    finally:
        bodies.close()


def instants(days: FloatArray) -> Instants:
    """Return days since 1970 as datetime64 in whole microseconds."""
    return np.rint(days * 86_400e6).astype(np.int64).astype("datetime64[us]")


def days_of(moments: Instants) -> FloatArray:
    return moments.astype("datetime64[us]").astype(np.int64) / 86_400e6


def turn_between(first_deg: FloatArray, second_deg: FloatArray) -> FloatArray:
    """Return the angle between two azimuths, -180 to 180 degrees."""
    between: FloatArray = (first_deg - second_deg + 180.0) % 360.0 - 180.0
    return between
