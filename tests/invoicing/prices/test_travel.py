"""Travel by bands of distance."""

from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.travel import Fare, fare_for, trip_to
from jobs.places.models import Place
from studio.profile.models import StudioProfile

NEAR = PriceItem(pk=1, kind=PriceKind.TRAVEL, name="Near", up_to_distance=10)
FAR = PriceItem(pk=2, kind=PriceKind.TRAVEL, name="Far", up_to_distance=40)
MILE = PriceItem(pk=3, kind=PriceKind.TRAVEL, name="By the mile")
LIST = [FAR, MILE, NEAR, PriceItem(pk=4, name="Session")]


def test_the_narrowest_band_that_reaches_is_proposed() -> None:
    assert fare_for(0, LIST) == Fare(item=NEAR, quantity=1)
    assert fare_for(10, LIST) == Fare(item=NEAR, quantity=1)
    assert fare_for(11, LIST) == Fare(item=FAR, quantity=1)
    assert fare_for(40, LIST) == Fare(item=FAR, quantity=1)


def test_beyond_every_band_each_mile_is_charged_there_and_back() -> None:
    assert fare_for(41, LIST) == Fare(item=MILE, quantity=82)
    assert fare_for(41, [NEAR, FAR]) is None


def test_a_trip_is_the_straight_line_with_a_detour() -> None:
    # One degree along a meridian is 111.195 km on the mean sphere (6371.0088 km times
    # pi over 180); 1.3 times that is 144.6 km or 89.8 miles, rounded up.
    there = Place(latitude_deg=56.0, longitude_deg=-1.5)
    profile = StudioProfile(home_latitude=55.0, home_longitude=-1.5)

    miles = trip_to(there, profile)
    profile.distance_unit = "km"
    kilometres = trip_to(there, profile)

    assert miles is not None
    assert kilometres is not None
    assert (miles.distance, kilometres.distance) == (90, 145)
    assert miles.words == "about 90 miles each way"


def test_at_home_or_without_one_no_trip_is_made() -> None:
    home = Place(latitude_deg=55.0, longitude_deg=-1.5)

    assert trip_to(home, StudioProfile()) is None
    at_home = StudioProfile(home_latitude=55.0, home_longitude=-1.5)
    assert trip_to(home, at_home) is None
