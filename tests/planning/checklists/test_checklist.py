"""What is packed: it follows the plan, and ticks stay where somebody put them."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client, RequestFactory
from django.urls import reverse

from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking
from jobs.kits.models import KitItem
from planning.checklists.models import ChecklistItem, Section
from planning.checklists.operations import add_own_item, remove_own_item, set_ticks
from planning.checklists.panels import before_panel, kit_to_pack
from planning.checklists.queries import checklist_of
from planning.shoots.models import SetUp
from planning.weather.models import WeatherSeen
from studio.http import staff
from studio.people.models import Person
from tests.make import NOON, make_booking, make_job, make_person
from tests.make_planning import EVENING, make_shoot

pytestmark = pytest.mark.django_db
AT = datetime(2027, 10, 13, 18, tzinfo=UTC)


def tick(booking: Booking, *keys: str, was: tuple[str, ...] = ()) -> None:
    owner = booking.job.owner
    set_ticks(booking=booking, ticked={*keys}, was={*was}, by=owner, at=AT)


def ticked(booking: Booking) -> set[str]:
    return {line.key for line in checklist_of(booking).lines if line.ticked}


def test_it_lists_what_is_held_and_what_the_plan_needs_with_the_reason() -> None:
    lines = {line.words: line for line in checklist_of(make_shoot()).lines}
    assert lines["Camera body A"].section == Section.CAMERA
    assert lines["Camera body A"].reason == "Bag: Grey roller"
    assert lines["Tripod and plate"].reason.startswith("Set-up 4 needs 1/")
    assert lines["Head torch"].reason == "The session ends after sunset"
    assert any(words.startswith("Camera batteries") for words in lines)


def test_it_says_on_which_shelf_an_item_is_or_whence_it_comes_back() -> None:
    booking = make_shoot()
    body = KitItem.objects.get(name="Camera body A")
    KitItem.objects.filter(pk=body.pk).update(shelf="Shelf A1")
    before = {line.words: line for line in checklist_of(booking).lines}
    other = make_booking(
        job=make_job("Fair"),
        items=(body,),
        starts_at=booking.on_site_at - timedelta(hours=3),
        hours=2,
    )
    confirm_booking(booking_id=other.pk, by=other.job.owner, at=NOON)

    after = {line.words: line for line in checklist_of(booking).lines}

    assert before["Camera body A"].shelf == "Shelf A1"
    assert before["Camera body A"].comes_back == ""
    told = after["Camera body A"].comes_back
    assert (
        told
        == f"Comes back from Fair on {other.local_end:%a} at {other.local_end:%H:%M}."
    )
    assert not any(
        line.comes_back for line in after.values() if line.words != body.name
    )


def test_looking_at_it_writes_nothing() -> None:
    booking = make_shoot()
    checklist_of(booking)
    assert not ChecklistItem.objects.exists()


def test_ticks_are_kept_with_who_and_when() -> None:
    booking = make_shoot()
    tick(booking, "tripod")
    (line,) = [one for one in checklist_of(booking).lines if one.ticked]
    assert (line.key, line.ticked_by, line.ticked_at) == ("tripod", "Ada Vane", AT)
    tick(booking, was=("tripod",))
    assert ticked(booking) == set()


def test_a_tick_that_somebody_else_made_meanwhile_is_not_taken_back() -> None:
    booking = make_shoot()
    tick(booking, "torch")
    tick(booking, "tripod", was=())
    assert ticked(booking) == {"torch", "tripod"}


def test_it_follows_the_plan_but_keeps_what_was_ticked() -> None:
    booking = make_shoot()
    tick(booking, "tripod", "stand")
    SetUp.objects.filter(name="Lamp room, dusk").delete()
    lines = {line.key: line for line in checklist_of(booking).lines}
    assert lines["tripod"].no_longer
    assert lines["stand"].ticked
    tick(booking, was=("tripod",))
    assert "tripod" not in {line.key for line in checklist_of(booking).lines}


def test_something_of_ones_own_stays_until_it_is_taken_off() -> None:
    booking = make_shoot()
    owner = booking.job.owner
    for words in ("Step stool", "Step stool"):
        add_own_item(
            booking=booking, section=Section.GRIP, words=words, by=owner, at=AT
        )
    one, two = checklist_of(booking).own
    assert one.key != two.key
    tick(booking, one.key)
    remove_own_item(booking=booking, key=two.key, by=owner, at=AT)
    assert [line.key for line in checklist_of(booking).own] == [one.key]


def test_what_the_plan_asks_for_is_not_taken_off_by_hand() -> None:
    booking = make_shoot()
    tick(booking, "tripod")
    remove_own_item(booking=booking, key="tripod", by=booking.job.owner, at=AT)
    assert ticked(booking) == {"tripod"}


def test_the_page_works_without_script_and_a_script_gets_the_list_alone() -> None:
    booking = make_shoot()
    client = Client()
    client.force_login(booking.job.owner)
    page = reverse("planning:checklist", args=[booking.pk])
    address = reverse("planning:checklist_tick", args=[booking.pk])
    assert client.post(address, {"ticked": ["tripod", "torch"]}).status_code == 302
    told = client.get(page).content.decode()
    assert "2 of 18 ticked" in told
    sent = {"ticked": ["torch"], "was": ["tripod", "torch"]}
    part = client.post(address, sent, headers={"HX-Request": "true"})
    assert b"1 of 18 ticked" in part.content
    assert b"<html" not in part.content
    added = client.post(page, {"words": "Step stool", "section": "GRIP"})
    assert added.status_code == 302
    assert "Step stool" in client.get(page).content.decode()
    assert client.post(page, {"words": "", "section": "GRIP"}).status_code == 422


def test_keys_that_no_list_could_hold_do_nothing() -> None:
    booking = make_shoot()
    client = Client()
    client.force_login(booking.job.owner)
    address = reverse("planning:checklist_tick", args=[booking.pk])
    client.post(address, {"ticked": ["x" * 5000, "nothing", ""]})
    assert ticked(booking) == set()


def test_a_bookkeeper_may_not_tick() -> None:
    booking = make_shoot()
    client = Client()
    client.force_login(make_person("Cleo Books", hats="bookkeeper"))
    for name in ("checklist", "checklist_tick", "checklist_remove"):
        address = reverse(f"planning:{name}", args=[booking.pk])
        assert client.post(address).status_code == 403


def test_today_asks_to_pack_until_all_is_ticked() -> None:
    booking = make_shoot()
    owner = booking.job.owner
    assert kit_to_pack(owner, AT) == []
    confirm_booking(booking_id=booking.pk, by=owner, at=NOON)
    (item,) = kit_to_pack(owner, AT)
    assert item.reason == "Tomorrow, 15:00. 0 of 18 ticked."
    assert item.group == "today"
    assert kit_to_pack(owner, EVENING - timedelta(days=4)) == []
    tick(booking, *(line.key for line in checklist_of(booking).lines))
    assert kit_to_pack(owner, AT) == []


def test_the_jobs_page_shows_what_is_to_be_done_before_the_day() -> None:
    booking = make_shoot()
    request = staff(RequestFactory().get("/"))
    request.user = Person.objects.get(is_planner=True)
    drawn = before_panel(request, booking.job)
    assert "Before Thursday" in drawn
    assert "camera batteries" in drawn
    assert "0 of 13" in drawn


def test_the_evening_before_counts_from_the_plan_and_from_the_weather() -> None:
    booking = make_shoot()
    lines = {line.key: line for line in checklist_of(booking).lines}
    assert lines["weather"].section == Section.BEFORE
    assert "°C" not in lines["batteries"].reason
    cells = [line for key, line in lines.items() if key.startswith("cells:")]
    assert cells
    assert all("full ones" in line.reason for line in cells)

    WeatherSeen.objects.create(
        booking=booking,
        read_at=booking.starts_at - timedelta(hours=12),
        read_by=booking.job.owner,
        read_in="The paper",
        for_at=booking.starts_at,
        temperature_c=-6.0,
    )
    fresh = Booking.objects.get(pk=booking.pk)
    cold = {line.key: line for line in checklist_of(fresh).lines}

    # Straight between three quarters at 0 °C and half at -15 °C: 65 %.
    assert "65% of that at -6 °C" in cold["batteries"].reason
    assert "weather" not in cold


def test_what_is_packed_is_shown_bag_by_bag() -> None:
    bags = {bag.title: bag.lines for bag in checklist_of(make_shoot()).bags}

    assert "Camera body A" in {line.words for line in bags["Grey roller"]}
    assert next(reversed(bags)) == "In no bag"
    packed = sum(len(lines) for lines in bags.values())
    assert packed == len(checklist_of(Booking.objects.get()).packing)
