"""Travel by bands of distance: which price of the list fits a way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Final

from invoicing.prices.models import PriceItem, PriceKind
from jobs.places.distances import distance_km
from jobs.places.models import Place
from jobs.ways.queries import DETOUR, NEAR_KM
from studio.profile.models import DistanceUnit, StudioProfile

KM_IN_A_MILE: Final = 1.609344


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """How far a place lies from home, one way, in the studio's unit; an estimate."""

    distance: int
    unit: str

    @property
    def words(self) -> str:
        """How far it is, with where the figure comes from."""
        many = {DistanceUnit.MILE: "miles", DistanceUnit.KILOMETRE: "km"}
        unit = "mile" if self.distance == 1 and self.unit == "mile" else ""
        unit = unit or many[DistanceUnit(self.unit)]
        return f"about {self.distance} {unit} each way"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fare:
    """A price of the list that fits a trip, and how many of it."""

    item: PriceItem
    quantity: int


def trip_to(place: Place, profile: StudioProfile) -> Trip | None:
    """Return how far a place is by road; None where home is not set, or is there.

    The straight line and a detour of common practice: the user confirms it.
    """
    if profile.home_latitude is None or profile.home_longitude is None:
        return None
    home = Place(
        latitude_deg=profile.home_latitude, longitude_deg=profile.home_longitude
    )
    straight_km = distance_km(home, place)
    if straight_km <= NEAR_KM:
        return None
    is_km = profile.distance_unit == DistanceUnit.KILOMETRE
    road = straight_km * DETOUR / (1.0 if is_km else KM_IN_A_MILE)
    return Trip(distance=ceil(round(road, 6)), unit=profile.distance_unit)


def fare_for(distance: int, prices: Iterable[PriceItem]) -> Fare | None:
    """Return the narrowest band that reaches so far one way.

    Beyond every band it is the price of each mile or kilometre, there and back; None
    where the list has none.
    """
    listed = [one for one in prices if one.kind == PriceKind.TRAVEL]
    reaching = [
        (one.up_to_distance, one.pk, one)
        for one in listed
        if one.up_to_distance is not None and one.up_to_distance >= distance
    ]
    if reaching:
        return Fare(item=min(reaching)[2], quantity=1)
    by_distance = [one for one in listed if one.up_to_distance is None]
    if not by_distance:
        return None
    return Fare(item=by_distance[0], quantity=2 * distance)
