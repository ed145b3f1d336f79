"""How far places lie apart."""

from math import asin, cos, radians, sin, sqrt
from typing import Final

from jobs.places.models import Place

EARTH_KM: Final = 6371.0088
"""The mean radius of the Earth (IUGG)."""


def distance_km(here: Place, there: Place) -> float:
    """Return the great-circle distance by the haversine formula."""
    lat, other_lat = radians(here.latitude_deg), radians(there.latitude_deg)
    turn = radians(there.longitude_deg - here.longitude_deg)
    half = sin((other_lat - lat) / 2) ** 2
    half += cos(lat) * cos(other_lat) * sin(turn / 2) ** 2
    return 2 * EARTH_KM * asin(min(1.0, sqrt(half)))
