"""What a plan asks for and the studio has: taken, reserved elsewhere, or not owned."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from jobs.bookings.operations import cancel_booking, confirm_booking
from jobs.kits.models import KitCategory, KitItem
from planning.checklists.need import Want
from planning.checklists.offer import Offer
from planning.checklists.queries import checklist_of
from planning.checklists.taking import with_offers
from planning.shoots.choices import Light
from planning.shoots.operations import start_plan
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_profile,
)
from tests.make_planning import LONDON, make_set_up

pytestmark = pytest.mark.django_db
START = datetime(2027, 10, 14, 15, tzinfo=LONDON)


def planned(**fields: Any) -> Booking:
    make_profile()
    booking = make_booking(job=make_job("Newborn"), starts_at=START)
    plan = start_plan(booking=booking, by=booking.job.owner, at=NOON)
    make_set_up(plan, START + timedelta(minutes=5), **fields)
    return booking


def offers(booking: Booking) -> dict[str, Offer | None]:
    booking = Booking.objects.get(pk=booking.pk)  # as a page reads it afresh
    found = with_offers(checklist_of(booking), booking)
    return {line.words: line.offer for line in found.lines}


def board() -> KitItem:
    return make_item("White board", KitCategory.BOARD, width_m=1.0, height_m=2.0)


def post(booking: Booking, item_id: object, hats: str = "owner") -> Any:
    browser = Client()
    browser.force_login(make_person("Bram Okoro", hats=hats))
    address = reverse("planning:checklist_take", args=[booking.pk])
    return browser.post(address, {"kit_item": item_id}, follow=True)


def test_a_free_item_of_the_studio_is_offered_and_taken() -> None:
    item = board()
    booking = planned(light=Light.WINDOW, board=item)
    confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)
    assert offers(booking)["White board"] == Offer(
        item_id=item.pk, item_name="White board"
    )

    page = post(booking, item.pk).content.decode()

    assert "“White board” goes along." in page
    assert "Take it" not in page
    kept = booking.reservations.get(kit_item=item)
    assert kept.holds
    assert (kept.starts_at, kept.ends_at) == (booking.on_site_at, booking.ends_at)
    assert offers(booking)["White board"] is None


def test_an_item_that_is_reserved_at_that_time_names_the_job() -> None:
    item = board()
    other = make_booking(
        job=make_job("Choir"), starts_at=START + timedelta(hours=1), items=(item,)
    )
    booking = planned(light=Light.WINDOW, board=item)
    assert offers(booking)["White board"] == Offer(
        item_id=item.pk, item_name="White board"
    )  # a session that is only proposed holds nothing

    confirm_booking(booking_id=other.pk, by=other.job.owner, at=NOON)
    confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)

    assert offers(booking)["White board"] == Offer(
        item_name="White board", taken_by=other
    )
    page = post(booking, item.pk).content.decode()
    assert "White board is taken on Thu 14 Oct 2027" in page
    assert f'for <a href="{other.get_absolute_url()}">Choir</a>' in page
    assert not booking.reservations.filter(kit_item=item).exists()


def test_what_nobody_owns_is_hired_or_borrowed() -> None:
    lamp = make_item("Lamp", KitCategory.FLASH, guide_number_m=40.0, retired=True)
    booking = planned(light=Light.FLASH, flash=lamp)

    found = offers(booking)

    assert found["Lamp"] == Offer()  # the studio no longer has it
    assert found["Light stand and sandbag"] == Offer()
    assert found["Release forms and a pen"] is None  # not a thing of the kit list
    page = post(booking, lamp.pk).content.decode()
    assert "That item is not among the studio’s kit." in page
    assert "None owned: hire or borrow one." in page


def test_stands_are_offered_until_there_are_enough() -> None:
    lamps = [
        make_item(f"Lamp {name}", KitCategory.FLASH, guide_number_m=40.0)
        for name in "AB"
    ]
    one, two = make_item("Light stand A"), make_item("Light stand B")
    booking = planned(light=Light.FLASH, flash=lamps[0], second_flash=lamps[1])
    words = "Two light stands, a sandbag each"

    for stand in (one, two):
        assert offers(booking)[words] == Offer(item_id=stand.pk, item_name=stand.name)
        post(booking, stand.pk)

    assert offers(booking)[words] is None


def test_a_stand_that_is_held_does_not_stand_for_the_tripod() -> None:
    tripod, stand = make_item("Tripod, tall"), make_item("Light stand")
    booking = planned(support="tripod")
    post(booking, stand.pk)
    assert offers(booking)["Tripod and plate"] == Offer(
        item_id=tripod.pk, item_name="Tripod, tall"
    )

    post(booking, tripod.pk)

    assert "Tripod and plate" not in offers(booking)


def test_a_session_that_is_off_is_offered_nothing() -> None:
    item = board()
    booking = planned(light=Light.WINDOW, board=item)
    booking = cancel_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)

    assert set(offers(booking).values()) == {None}
    page = post(booking, item.pk).content.decode()
    assert "A cancelled session is not changed any more." in page


@pytest.mark.parametrize("given", ["", "x", "0", "9" * 30, "9" * 5000], ids=len)
def test_what_is_no_item_is_refused_in_words(given: str) -> None:
    page = post(planned(), given).content.decode()

    assert "That item is not among the studio’s kit." in page


def test_a_bookkeeper_takes_nothing() -> None:
    booking = planned()

    assert post(booking, board().pk, hats="bookkeeper").status_code == 403


def test_names_are_known_by_the_beginnings_of_their_words() -> None:
    grey = Want(called=("nd", "grey"), category=KitCategory.FILTER)
    names = {
        name: grey.fits(KitItem(name=name, category=KitCategory.FILTER))
        for name in ("ND filter, 3 stops", "Grey grad", "Blender", "Stand bag")
    }

    assert list(names.values()) == [True, True, False, False]
    assert not grey.fits(KitItem(name="ND", category=KitCategory.OTHER))


def test_a_tick_stays_when_the_item_is_taken() -> None:
    item = board()
    booking = planned(light=Light.WINDOW, board=item)
    keys = {line.key for line in checklist_of(booking).lines}
    post(booking, item.pk)

    assert f"item:{item.pk}" in keys & {one.key for one in checklist_of(booking).lines}


def test_offers_take_three_queries_however_much_kit_there_is(
    django_assert_num_queries: Any,
) -> None:
    booking = planned(light=Light.WINDOW, board=board())
    for number in range(30):
        make_item(f"Tripod {number}")
    found = checklist_of(booking)
    with django_assert_num_queries(3):
        with_offers(found, booking)
