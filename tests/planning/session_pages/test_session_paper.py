"""The client's page: one page, everyday words, nobody's number but the studio's."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from jobs.bookings.models import Booking
from planning.session_pages.documents import print_session
from planning.session_pages.queries import printed_session
from planning.shoots.operations import start_plan
from tests.make import NOON, make_booking, make_place, make_profile
from tests.make_planning import EVENING, make_set_up, make_shoot
from tests.planning.reading import pages, words

pytestmark = pytest.mark.django_db
PRINTED_AT = datetime(2027, 10, 12, 9, 12, tzinfo=UTC)


def paper_of(booking: Booking) -> bytes:
    return print_session(printed_session(booking, at=PRINTED_AT))


def test_it_says_where_when_how_and_what_if_it_pours() -> None:
    booking = make_shoot()
    make_profile(
        wear_words="Plain colours.\nNo big words.",
        bring_words="Your instruments.",
        weather_words="You get a new day, free.",
    )
    (told,) = pages(paper_of(booking))
    for words_of_it in (
        "Your session",
        "for Tidewater Quartet",
        "Thursday 14 October",
        "15:00 to 18:45. Please be there at 14:50.",
        "Where we meet: the harbour gate.",
        "Daylight 07:28 to 18:07",
        "How the afternoon goes",
        "Boathouse doors",
        "About 35 minutes, in soft shade.",
        "headland",
        "Plain colours.",
        "Your instruments.",
        "On the hard above the slipway, free after 14:00.",
        "Decided by 13:00; Ada rings you. You get a new day, free.",
        "Ada Vane 01632 960001",
        "ring 01632 960001",
    ):
        assert words_of_it in told


def test_it_holds_no_number_of_the_crew_and_no_word_of_exposure() -> None:
    told = words(paper_of(make_shoot()))
    for number in ("960101", "960102", "960118", "960140"):
        assert number not in told
    for word in (
        "ISO",
        "f/",
        "EV",
        "1/",
        "reflector",
        "soft box",
        "key from the office",
    ):
        assert word not in told


def test_equal_pages_give_equal_bytes() -> None:
    booking = make_shoot()
    assert paper_of(booking) == paper_of(booking)


def test_it_stays_one_page_with_twelve_set_ups_and_much_to_say() -> None:
    booking = make_shoot()
    make_profile(
        wear_words="\n".join(f"Wear thing {n}, plain and warm." for n in range(8)),
        bring_words="\n".join(f"Bring thing {n} in a bag." for n in range(8)),
        weather_words="Rain that passes, we wait out. " * 5,
    )
    plan = start_plan(booking=booking, by=booking.job.owner, at=NOON)
    for number in range(8):
        at = EVENING + timedelta(minutes=20 * number)
        make_set_up(plan, at, name=f"Corner {number}", minutes=15)
    (told,) = pages(paper_of(booking))
    assert all(f"Corner {n}" in told for n in range(8))
    assert "Bring thing 7" in told


def test_a_long_place_and_names_of_other_scripts_stay_readable() -> None:
    booking = make_shoot()
    booking.place.name = ("The long way round the harbour " * 10)[:300]
    booking.place.save()
    booking.job.client.name = "Οικογένεια Παπαδοπούλου & Ковальчук"
    booking.job.client.save()
    (told,) = pages(paper_of(booking))
    assert "Οικογένεια Παπαδοπούλου & Ковальчук" in told
    assert "The long way round the harbour" in told


def test_a_session_across_midnight_names_the_day_it_ends_on() -> None:
    make_profile()
    starts_at = datetime(2027, 6, 18, 22, 30, tzinfo=ZoneInfo("Europe/London"))
    (told,) = pages(paper_of(make_booking(starts_at=starts_at, hours=3)))
    assert "22:30 to 01:30 on Saturday" in told
    assert "How the night goes" in told


def test_a_night_of_changing_clocks_says_so() -> None:
    make_profile()
    starts_at = datetime(2027, 10, 30, 23, 45, tzinfo=UTC)
    (told,) = pages(paper_of(make_booking(starts_at=starts_at, hours=2.5)))
    assert "00:45 to 02:15" in told
    assert "The clocks change that night" in told


def test_a_midsummer_night_in_the_north_is_daylight_all_through() -> None:
    make_profile()
    place = make_place(
        "Ytre fjord",
        latitude_deg=69.65,
        longitude_deg=18.96,
        time_zone="Europe/Oslo",
    )
    starts_at = datetime(2027, 6, 21, 22, tzinfo=ZoneInfo("Europe/Oslo"))
    (told,) = pages(paper_of(make_booking(place=place, starts_at=starts_at)))
    assert "Daylight all day and night" in told
    assert "The sun is up the whole time" in told
