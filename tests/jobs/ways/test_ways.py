from datetime import timedelta
from math import pi

import pytest
from django.test import Client as Browser

from jobs.bookings.holding import ClashError
from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingTimeError,
    BookingWish,
    change_booking,
    confirm_booking,
    pencil_booking,
)
from jobs.bookings.states import BookingStatus
from jobs.bookings.travelling import way_sentence
from jobs.places.distances import distance_km
from jobs.places.models import Place
from jobs.ways.models import KnownWay
from jobs.ways.operations import say_way
from jobs.ways.queries import estimate_minutes, ways_between
from studio.people.models import Person
from tests.make import NOON, make_booking, make_person, make_place, make_profile

DAY = NOON + timedelta(days=10)


def test_a_degree_of_latitude_is_as_long_as_on_the_mean_sphere() -> None:
    # Worked by hand: the Earth's mean radius of 6371.0088 km (IUGG) times pi / 180.
    here = Place(latitude_deg=54.0, longitude_deg=-1.0)
    there = Place(latitude_deg=55.0, longitude_deg=-1.0)

    assert distance_km(here, there) == pytest.approx(6371.0088 * pi / 180, rel=1e-9)


def test_an_estimate_is_the_line_times_1_3_at_the_speed_rounded_up() -> None:
    # Worked by hand: 50 km * 1.3 = 65 km; at 60 km/h 65 minutes, at 50 km/h 78.
    assert estimate_minutes(50.0, speed_kmh=60) == 65
    assert estimate_minutes(50.0, speed_kmh=50) == 78
    assert estimate_minutes(1.0, speed_kmh=50) == 2  # 1.56 minutes
    assert estimate_minutes(0.1, speed_kmh=50) == 0


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


def two_towns(ada: Person, *, minutes_between: int, packing: int = 0) -> list[Booking]:
    """Make two sessions of one person, some 55 km apart: an estimate of 87 minutes."""
    north = make_place("North pier", latitude_deg=54.0, longitude_deg=-1.0)
    south = make_place("South pier", latitude_deg=54.5, longitude_deg=-1.0)
    first = make_booking(place=north, people=(ada,), starts_at=DAY)
    wish = BookingWish(
        place=north,
        starts_at=DAY,
        ends_at=first.ends_at,
        packing_minutes=packing,
        person_ids=(ada.pk,),
    )
    change_booking(booking_id=first.pk, wish=wish, by=ada, at=NOON)
    after = first.ends_at + timedelta(minutes=minutes_between + 30)  # 30 of setting up
    second = make_booking(place=south, people=(ada,), starts_at=after)
    return [first, second]


@pytest.mark.django_db
def test_a_way_that_is_too_long_refuses_a_firm_session_and_warns_of_a_held_one(
    ada: Person,
) -> None:
    first, second = two_towns(ada, minutes_between=86)
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    pencil_booking(booking_id=second.pk, until=None, by=ada, at=NOON)
    words = way_sentence(second.place, second.reservations.all())
    with pytest.raises(ClashError, match=r"about 87 minutes \(estimated from 56 km"):
        confirm_booking(booking_id=second.pk, by=ada, at=NOON)

    assert words.startswith("Ada Vane has 86 minutes after Shop portraits, J-2026-001")
    second.refresh_from_db()
    assert second.status == BookingStatus.PENCILLED


@pytest.mark.django_db
def test_packing_takes_of_the_time_for_the_way(ada: Person) -> None:
    first, second = two_towns(ada, minutes_between=90, packing=15)
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    with pytest.raises(ClashError, match="Ada Vane has 75 minutes after"):
        confirm_booking(booking_id=second.pk, by=ada, at=NOON)


@pytest.mark.django_db
def test_a_way_that_somebody_timed_counts_instead_of_the_estimate(ada: Person) -> None:
    first, second = two_towns(ada, minutes_between=40)
    confirm_booking(booking_id=first.pk, by=ada, at=NOON)

    say_way(here=second.place, there=first.place, minutes=40, by=ada, at=NOON)

    confirm_booking(booking_id=second.pk, by=ada, at=NOON)
    way = ways_between(first.place, [second.place])[second.place_id]
    assert (way.minutes, way.is_estimate) == (40, False)


@pytest.mark.django_db
def test_what_a_session_holds_is_15_days_at_most() -> None:
    with pytest.raises(BookingTimeError, match="15 days long at most"):
        BookingWish(
            place=Place(),
            starts_at=DAY,
            ends_at=DAY + timedelta(days=14),
            setting_up_minutes=720,
            packing_minutes=721,
        )


@pytest.mark.django_db
def test_the_page_of_ways_says_what_is_estimated_and_takes_a_figure(
    ada: Person,
) -> None:
    here = make_place("North pier")
    there = make_place("South pier", latitude_deg=54.5)
    browser = Browser()
    browser.force_login(ada)
    url = f"/kit/places/{here.pk}/ways/"

    before = browser.get(url).content.decode()
    after = browser.post(url, {"there": there.pk, "minutes": "12"}, follow=True)
    browser.post(f"/kit/places/{there.pk}/ways/", {"there": here.pk, "minutes": ""})

    assert "estimate</span>" in before
    assert "estimate</span>" not in after.content.decode()
    assert not KnownWay.objects.exists()
