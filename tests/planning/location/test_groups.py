"""On location: groups are ticked in any order, and whoever is in one counts."""

from datetime import UTC, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.attending.group_operations import keep_group
from jobs.attending.models import GroupShot, Need
from jobs.bookings.models import Booking
from planning.location.operations import NothingToTickError, set_tick
from planning.location.who import WhoIsLeft, who_is_left
from studio.people.models import Person
from tests.make import NOON, make_booking
from tests.make_planning import EVENING, make_quay, make_shoot

pytestmark = pytest.mark.django_db
START = EVENING.astimezone(UTC)


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def owner() -> Person:
    return Person.objects.earliest("pk")


def group(booking: Booking, name: str, *members: str) -> GroupShot:
    ids = booking.attendees.filter(name__in=members).values_list("pk", flat=True)
    return keep_group(
        booking=booking, group=None, name=name, member_ids=ids, by=owner(), at=NOON
    )


def tick(booking: Booking, key: str, minute: int, *, is_done: bool = True) -> None:
    at = START + timedelta(minutes=minute)
    set_tick(booking=booking, key=key, is_done=is_done, by=owner(), at=at)


def left(booking: Booking) -> WhoIsLeft:
    fresh = Booking.objects.get(pk=booking.pk)
    ticks = fresh.session_ticks.filter(is_done=True)
    return who_is_left(fresh, set(ticks.values_list("key", flat=True)))


def test_whoever_is_in_a_group_that_is_photographed_counts(booking: Booking) -> None:
    everyone = group(booking, "Everyone", "Jo Reed", "Four players", "Ines Marlow")
    pair = group(booking, "Jo alone", "Jo Reed")

    tick(booking, f"group:{pair.pk}", 5)
    one = left(booking)
    tick(booking, f"group:{everyone.pk}", 6)
    both = left(booking)
    tick(booking, f"group:{everyone.pk}", 7, is_done=False)
    again = left(booking)

    assert (one.groups_done, one.sitters_left) == (1, 1)
    assert {s.name: s.done_in for s in one.sitters} == {
        "Four players": "",
        "Jo Reed": "Jo alone",
    }
    assert (both.groups_done, both.sitters_left) == (2, 0)
    assert again == one


def test_a_tap_of_their_own_counts_as_well(booking: Booking) -> None:
    sitter = booking.attendees.get(name="Jo Reed")

    tick(booking, f"sitter:{sitter.pk}", 5)

    assert left(booking).sitters_left == 1


def test_a_group_of_another_session_is_not_ticked_here(booking: Booking) -> None:
    other = make_booking(job=booking.job, place=make_quay())
    elsewhere = group(other, "Everyone")

    with pytest.raises(NothingToTickError):
        tick(booking, f"group:{elsewhere.pk}", 5)


def test_the_page_names_groups_notes_and_who_is_not_shown(
    client: Browser, booking: Booking
) -> None:
    sitter = booking.attendees.get(name="Jo Reed")
    Need.objects.create(attendee=sitter, age=9, wears_glasses=True, not_shown=True)
    row = group(booking, "Jo & all", "Jo Reed")
    client.force_login(owner())
    address = reverse("planning:location_tick", args=[booking.pk])

    client.post(address, {"key": f"group:{row.pk}", "is_done": "on"})
    page = client.get(reverse("planning:location", args=[booking.pk])).content.decode()

    assert "1 of 1" in page
    assert "Not to be shown: Jo Reed" in page
    assert "9 years, not to be shown, glasses" in page
    assert "photographed in Jo &amp; all" in page
    assert 'aria-pressed="true"><span><b>Jo &amp; all' in page
