"""Groups to photograph: suggested from who comes, ordered, and kept."""

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.attending.company import Comer
from jobs.attending.group_operations import add_suggested, keep_group
from jobs.attending.models import GroupShot, Need
from jobs.attending.queries import groups_of
from jobs.attending.suggesting import suggest_groups
from jobs.bookings.models import Attendee, Booking, Part
from jobs.clients.models import ClientKind
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_profile,
)


def comer(pk: int, name: str, household: str = "", years: int | None = None) -> Comer:
    months = None if years is None else years * 12
    return Comer(pk=pk, name=name, household=household, age_months=months)


def suggested(*people: Comer) -> list[tuple[str, list[int]]]:
    return [
        (one.name, [member.pk for member in one.members])
        for one in suggest_groups(people)
    ]


def test_everyone_each_household_the_children_and_each_child_alone() -> None:
    # Worked by hand: Gran by herself is no group of a household; names of a household
    # are one, however they are written.
    people = (
        comer(1, "Oriel", "Mill"),
        comer(2, "Ned", "mill", 6),
        comer(3, "Gran", "Quay"),
        comer(4, "Wren", "Rise"),
        comer(5, "Bo", "Rise", 2),
        comer(6, "Teen", "Rise", 18),
    )

    assert suggested(*people) == [
        ("Everyone", [1, 2, 3, 4, 5, 6]),
        ("Mill", [1, 2]),
        ("Rise", [4, 5, 6]),
        ("All the children", [2, 5]),
        ("Ned alone", [2]),
        ("Bo alone", [5]),
    ]


def test_a_group_that_equals_another_is_not_suggested_twice() -> None:
    people = (comer(1, "Ned", "Mill", 6), comer(2, "Bo", "Mill", 2))

    assert [name for name, _ in suggested(*people)] == [
        "Everyone",
        "Ned alone",
        "Bo alone",
    ]


def test_one_alone_is_no_group() -> None:
    assert suggested(comer(1, "Nerys")) == []


@pytest.fixture
def booking() -> Booking:
    make_profile()
    booking = make_booking(job=make_job(client=make_client(), by=make_person()))
    Attendee.objects.create(booking=booking, name="Oriel", part=Part.CLIENT)
    child = Attendee.objects.create(booking=booking, name="Ned")
    Need.objects.create(attendee=child, age=6, not_shown=True)
    return booking


def names(booking: Booking) -> list[str]:
    return [one.name for one in groups_of(booking)]


@pytest.mark.django_db
def test_suggestions_are_added_once(booking: Booking) -> None:
    by = booking.job.owner
    keep_group(
        booking=booking, group=None, name="everyone", member_ids=[], by=by, at=NOON
    )

    assert add_suggested(booking=booking, by=by, at=NOON) == 1
    assert add_suggested(booking=booking, by=by, at=NOON) == 0
    assert names(booking) == ["everyone", "Ned alone"]
    assert groups_of(booking)[1].not_shown == ("Ned",)


@pytest.mark.django_db
def test_the_contact_of_a_firm_is_not_in_its_picture(booking: Booking) -> None:
    booking.job.client.kind = ClientKind.ORGANISATION
    booking.job.client.save()

    add_suggested(booking=booking, by=booking.job.owner, at=NOON)

    assert names(booking) == ["Ned alone"]


@pytest.mark.django_db
def test_groups_are_added_moved_changed_and_removed(
    client: Browser, booking: Booking
) -> None:
    client.force_login(booking.job.owner)
    path = f"/jobs/sessions/{booking.pk}/groups/"
    child = booking.attendees.get(name="Ned")

    for name in ("Gran with all", "Ned by the gate", "The cousins"):
        client.post(path, {"name": name, "members": [str(child.pk)]})
    first, second, third = GroupShot.objects.all()
    client.post(f"/jobs/groups/{third.pk}/move/", {"up": "1"})
    client.post(f"/jobs/groups/{first.pk}/move/", {"up": "1"})
    client.post(f"/jobs/groups/{second.pk}/", {"name": "Ned alone"})
    client.post(f"/jobs/groups/{first.pk}/remove/")

    assert names(booking) == ["The cousins", "Ned alone"]
    assert list(second.members.all()) == []
    page = client.get(path).content.decode()
    assert "Not to be published" in page


@pytest.mark.django_db
def test_somebody_of_another_session_is_in_no_group_here(booking: Booking) -> None:
    other = make_booking(job=booking.job, place=booking.place)
    stranger = Attendee.objects.create(booking=other, name="Stranger")

    row = keep_group(
        booking=booking,
        group=None,
        name="All",
        member_ids=[stranger.pk],
        by=booking.job.owner,
        at=NOON,
    )

    assert list(row.members.all()) == []


@pytest.mark.django_db
def test_a_long_list_of_groups_asks_no_more_often(
    client: Browser,
    booking: Booking,
    django_assert_max_num_queries: DjangoAssertNumQueries,
) -> None:
    client.force_login(booking.job.owner)
    for number in range(12):
        row = GroupShot.objects.create(booking=booking, position=number, name="Pair")
        row.members.set(booking.attendees.all())

    with django_assert_max_num_queries(15):
        client.get(f"/jobs/sessions/{booking.pk}/groups/")
