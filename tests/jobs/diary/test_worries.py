"""What the diary warns of: two that want one thing, absence, ways, kit."""

from __future__ import annotations

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from jobs.away.operations import Absence, block_time
from jobs.bookings.models import Booking
from jobs.bookings.operations import cancel_booking, confirm_booking, pencil_booking
from jobs.diary.worries import worries_during
from jobs.kits.models import Trouble
from jobs.kits.operations import report_trouble
from studio.people.models import Person
from studio.timespan import TimeSpan
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = pytest.mark.django_db
WEEK = TimeSpan(NOON, NOON + timedelta(days=7))
START = NOON + timedelta(days=2)


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person("Ada")


def told() -> list[str]:
    return [one.words for one in worries_during(WEEK)]


def session(title: str, by: Person, **fields: object) -> Booking:
    values = {"starts_at": START, "people": (by,)} | fields
    return make_booking(job=make_job(title, by=by), **values)  # type: ignore[arg-type]


def firm(booking: Booking) -> Booking:
    return confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)


def test_two_that_want_one_thing_are_told_once_with_all_that_they_share(
    ada: Person,
) -> None:
    beach, lens = make_place("Beach"), make_item("Lens")
    firm(session("Choir", ada, place=beach, items=(lens,)))
    late = session("Portrait", ada, place=beach, items=(lens,))

    (one,) = worries_during(WEEK)

    assert one.words == (
        "Portrait (proposed) wants Lens, Ada while Choir (confirmed) does."
    )
    assert (one.url, one.day) == (late.get_absolute_url(), "Tue 23 Jun")
    cancel_booking(booking_id=late.pk, by=ada, at=NOON)
    assert told() == []


def test_sessions_apart_and_days_before_are_no_worry(ada: Person) -> None:
    beach = make_place("Beach")
    session("Choir", ada, place=beach)
    session("Later", ada, place=beach, starts_at=START + timedelta(hours=5))
    session("Long ago", ada, place=beach, starts_at=START - timedelta(days=40))

    assert told() == []


def test_somebody_who_is_away_is_told(ada: Person) -> None:
    away = Absence(
        person=ada,
        starts_at=START - timedelta(hours=9),
        ends_at=START + timedelta(hours=9),
        why="Holiday",
    )
    block_time(absence=away, by=ada, at=NOON)
    session("Choir", ada)

    assert told() == ["Choir wants Ada: away then (Holiday)."]


def test_a_way_that_takes_longer_than_there_is_time_is_told(ada: Person) -> None:
    # 90 minutes between the end of one and the set-up for the other; the straight line
    # is 1 degree of latitude, 111.2 km (R = 6371 km), x 1.3 at 50 km/h: 174 minutes.
    here = make_place("Beach", latitude_deg=54.0)
    there = make_place("Hill", latitude_deg=55.0)
    firm(session("Choir", ada, place=here))
    second = session("Fair", ada, place=there, starts_at=START + timedelta(hours=4))
    pencil_booking(booking_id=second.pk, until=WEEK.end, by=ada, at=NOON)

    (words,) = told()

    assert words.startswith("Ada has 90 minutes from Choir to Fair; the way takes")
    assert "174 minutes" in words


def test_kit_out_of_order_or_due_for_service_is_told(ada: Person) -> None:
    lens, flash = make_item("Lens"), make_item("Flash")
    session("Choir", ada, items=(lens, flash))
    report_trouble(item_id=lens.pk, trouble=Trouble.MISSING, note="", by=ada, at=NOON)
    flash.service_due_on = NOON.date()
    flash.save()

    assert told() == [
        "Choir needs Lens: it is missing.",
        "Choir: the service of Flash is due before it, on 21 Jun.",
    ]


def test_a_full_week_takes_three_queries(
    ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    here, there = make_place("Beach"), make_place("Hill", latitude_deg=55.0)
    for number in range(8):
        start = NOON + timedelta(hours=3 * number + 2)
        place = there if number % 2 else here
        session(str(number), ada, place=place, starts_at=start)

    with django_assert_num_queries(3):  # rows, known ways, the studio
        assert len(worries_during(WEEK)) == 7
