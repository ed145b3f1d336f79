"""On location: which set-up is on, what is left, and taps that arrive late or twice."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.location.models import SessionTick
from planning.location.operations import NothingToTickError, set_tick
from planning.location.queries import location_page
from planning.shoots.models import SetUp
from studio.history.models import JournalEntry
from studio.people.models import Person
from tests.make import make_booking, make_person, make_profile
from tests.make_planning import EVENING, make_quay, make_shoot

pytestmark = pytest.mark.django_db
START = EVENING.astimezone(UTC)


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def owner() -> Person:
    found = Person.objects.order_by("pk").first()
    assert found is not None
    return found


def first_key(booking: Booking) -> str:
    row = SetUp.objects.filter(plan__booking=booking).earliest("position")
    return f"set-up:{row.pk}"


def tick(booking: Booking, key: str, at: datetime, *, is_done: bool = True) -> None:
    set_tick(booking=booking, key=key, is_done=is_done, by=owner(), at=at)


def test_it_opens_with_the_first_set_up_and_goes_on_when_it_is_done(
    booking: Booking,
) -> None:
    at = START + timedelta(minutes=20)

    before = location_page(booking, at=at)
    tick(booking, first_key(booking), at)
    after = location_page(booking, at=at)

    assert [one.shown.number for one in before.set_ups if one.is_current] == [1]
    assert [one.shown.number for one in after.set_ups if one.is_current] == [2]
    assert after.done == 1


def test_a_set_up_whose_time_is_over_is_passed_by(booking: Booking) -> None:
    late = location_page(booking, at=START + timedelta(minutes=115))

    assert [one.shown.number for one in late.set_ups if one.is_current] == [3]


def test_any_set_up_can_be_jumped_to(booking: Booking) -> None:
    page = location_page(booking, at=START, wanted=4)

    assert [one.shown.number for one in page.set_ups if one.is_current] == [4]


def test_the_light_left_is_a_span_of_minutes(booking: Booking) -> None:
    # The slipway's headland is judged by eye, a degree either way, so the sun leaves
    # within a span; the words and the minutes come from the same two moments.
    page = location_page(booking, at=START + timedelta(minutes=60))

    assert page.sun is not None
    first = page.sun.earliest_at - page.now
    last = page.sun.latest_at - page.now
    assert page.sun.minutes == f"{first.seconds // 60}–{last.seconds // 60} min"
    assert "skyline estimated" in page.sun.clock


def test_after_the_sun_has_gone_twilight_is_counted(booking: Booking) -> None:
    # Civil dusk as the page's own clock words give it, minus 18:00, in whole minutes.
    gone = location_page(booking, at=START + timedelta(hours=3)).sun
    dark = location_page(booking, at=START + timedelta(hours=6)).sun

    assert gone is not None
    assert dark is not None
    hour, minute = gone.clock.rpartition("civil dusk ")[2].split(":")
    left = int(hour) * 60 + int(minute) - 18 * 60
    assert gone.words == "Sun gone, dusk in about"
    assert gone.minutes in {f"{left} min", f"{left + 1} min"}
    assert (dark.words, dark.minutes) == ("Sun gone", "")


def test_the_last_tap_counts_in_whatever_order_taps_arrive(booking: Booking) -> None:
    key = first_key(booking)

    tick(booking, key, START + timedelta(minutes=9), is_done=False)
    tick(booking, key, START + timedelta(minutes=4))

    assert not SessionTick.objects.get(key=key).is_done


def test_a_late_tap_from_between_two_alike_changes_nothing(booking: Booking) -> None:
    key = first_key(booking)

    tick(booking, key, START + timedelta(minutes=10))
    tick(booking, key, START + timedelta(minutes=12))
    tick(booking, key, START + timedelta(minutes=11), is_done=False)

    assert SessionTick.objects.get(key=key).is_done


def test_the_same_tap_twice_is_one(booking: Booking) -> None:
    key, at = first_key(booking), START + timedelta(minutes=5)
    before = JournalEntry.objects.count()

    tick(booking, key, at)
    tick(booking, key, at)

    assert JournalEntry.objects.count() == before + 1


@pytest.mark.parametrize("key", ["set-up:999999", "sitter:", "sitter:x", "lens:1", ""])
def test_what_is_not_of_the_session_is_refused(booking: Booking, key: str) -> None:
    with pytest.raises(NothingToTickError):
        tick(booking, key, START)


def test_a_sitter_is_ticked_on_the_page_and_taken_back(booking: Booking) -> None:
    client = Client()
    client.force_login(owner())
    sitter = booking.attendees.get(name="Jo Reed")
    address = reverse("planning:location_tick", args=[booking.pk])

    client.post(address, {"key": f"sitter:{sitter.pk}", "is_done": "on"})
    done = client.get(reverse("planning:location", args=[booking.pk])).content.decode()
    client.post(address, {"key": f"sitter:{sitter.pk}"})

    assert 'aria-pressed="true"><span><b>Jo Reed' in done
    assert not SessionTick.objects.get(key=f"sitter:{sitter.pk}").is_done


def test_a_script_hears_whether_its_tap_was_taken(booking: Booking) -> None:
    client = Client(headers={"x-kept": "1"})
    client.force_login(owner())
    address = reverse("planning:location_tick", args=[booking.pk])
    tapped = datetime.now(UTC) - timedelta(hours=5)

    good = client.post(
        address,
        {
            "key": first_key(booking),
            "is_done": "on",
            "tapped_at": tapped.isoformat().replace("+00:00", "Z"),
        },
    )
    bad = client.post(address, {"key": "set-up:999999", "is_done": "on"})

    assert (good.status_code, bad.status_code) == (200, 409)
    assert SessionTick.objects.get().changed_at == tapped


@pytest.mark.parametrize("given", ["soon", "2019-01-01T00:00:00Z", "2999-01-01T00:00Z"])
def test_a_time_that_cannot_be_counts_as_now(booking: Booking, given: str) -> None:
    client = Client()
    client.force_login(owner())
    before = datetime.now(UTC)

    client.post(
        reverse("planning:location_tick", args=[booking.pk]),
        {"key": first_key(booking), "is_done": "on", "tapped_at": given},
    )

    assert before <= SessionTick.objects.get().changed_at <= datetime.now(UTC)


def test_a_session_without_set_ups_offers_to_add_one() -> None:
    make_profile()
    bare = make_booking(place=make_quay(), starts_at=EVENING)
    client = Client()
    client.force_login(make_person("Planner", hats="planner"))

    told = client.get(reverse("planning:location", args=[bare.pk])).content.decode()

    assert "No set-ups yet" in told
