from datetime import timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.holding import OutOfUseError
from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking, take_item
from jobs.bookings.states import BookingStatus
from jobs.kits.models import KitItem, Trouble
from jobs.kits.operations import end_trouble
from jobs.kits.panels import kit_out_of_order
from jobs.returns.models import CameBack, KitReturn
from jobs.returns.operations import Back, NotTakenError, tick_kit_back
from jobs.returns.panels import kit_to_tick_back
from studio.people.models import Person
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person(hats="planner")


@pytest.fixture
def tripod() -> KitItem:
    return make_item("Tripod", bag="Long bag", shelf="Shelf 2")


def shot_with(item: KitItem, by: Person) -> Booking:
    return make_booking(
        job=make_job("Last week", by=by),
        starts_at=NOON - timedelta(days=7),
        items=(item,),
    )


def lose(item: KitItem, by: Person) -> None:
    backs = {item.pk: Back(CameBack.MISSING, "Left on the slip")}
    booking = shot_with(item, by)
    tick_kit_back(booking_id=booking.pk, items=backs, by=by, at=NOON)
    item.refresh_from_db()


def test_what_is_missing_is_on_today_until_it_is_found(
    ada: Person, tripod: KitItem
) -> None:
    lose(tripod, ada)
    make_booking(job=make_job("Harbour", by=ada), items=(tripod,))

    (card,) = kit_out_of_order(ada, NOON)
    end_trouble(item_id=tripod.pk, is_lost=False, by=ada, at=NOON)

    assert card.title == "Find Tripod"
    assert card.reason == ("Missing: Left on the slip. Harbour on Wed 1 Jul needs it.")
    assert kit_out_of_order(ada, NOON) == []


def test_no_session_is_confirmed_with_a_missing_item(
    ada: Person, tripod: KitItem
) -> None:
    lose(tripod, ada)
    booking = make_booking(job=make_job("Harbour", by=ada), items=(tripod,))

    with pytest.raises(OutOfUseError, match="Tripod is missing"):
        confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    booking.refresh_from_db()
    assert booking.status == BookingStatus.PROPOSED
    end_trouble(item_id=tripod.pk, is_lost=False, by=ada, at=NOON)
    sure = confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    assert sure.status == BookingStatus.CONFIRMED


def test_a_confirmed_session_takes_no_damaged_item_and_keeps_what_it_had(
    ada: Person, tripod: KitItem
) -> None:
    stand = make_item("Stand")
    booking = make_booking(job=make_job("Harbour", by=ada), items=(tripod,))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    lose(tripod, ada)
    KitItem.objects.filter(pk=stand.pk).update(trouble=Trouble.DAMAGED)

    with pytest.raises(OutOfUseError, match="Stand is damaged"):
        take_item(booking_id=booking.pk, item=stand, by=ada, at=NOON)
    take_item(booking_id=booking.pk, item=make_item("Clamp"), by=ada, at=NOON)

    assert booking.reservations.filter(holds=True).count() == 2


def test_what_is_written_off_is_retired(ada: Person, tripod: KitItem) -> None:
    lose(tripod, ada)

    end_trouble(item_id=tripod.pk, is_lost=True, by=ada, at=NOON)

    tripod.refresh_from_db()
    assert (tripod.trouble, tripod.retired) == ("", True)


def test_only_what_went_out_is_ticked_back(ada: Person, tripod: KitItem) -> None:
    booking, other = shot_with(tripod, ada), make_item("Other")

    with pytest.raises(NotTakenError):
        tick_kit_back(
            booking_id=booking.pk,
            items={other.pk: Back(CameBack.RETURNED)},
            by=ada,
            at=NOON,
        )


def test_the_page_ticks_without_script_and_keeps_a_lone_note(
    ada: Person, tripod: KitItem
) -> None:
    booking, browser = shot_with(tripod, ada), Browser()
    browser.force_login(ada)
    url = f"/jobs/sessions/{booking.pk}/kit-back/"

    lone = browser.post(url, {f"note_{tripod.pk}": "Bent foot"}).content.decode()
    done = browser.post(
        url, {f"note_{tripod.pk}": "Bent foot", f"state_{tripod.pk}": "DAMAGED"}
    )

    assert "Say how it came back as well." in lone
    assert "Bent foot" in lone
    assert done.status_code == 302
    (row,) = KitReturn.objects.all()
    assert (row.state, row.ticked_by) == (CameBack.DAMAGED, ada)


@pytest.mark.parametrize(("days", "group"), [(-1, "late"), (30, "soon"), (31, None)])
def test_service_is_told_a_month_before(
    ada: Person, days: int, group: str | None
) -> None:
    make_item("Camera", service_due_on=(NOON + timedelta(days=days)).date())

    assert [card.group for card in kit_out_of_order(ada, NOON)] == (
        [group] if group else []
    )


def test_kit_that_nobody_ticked_back_is_on_today(ada: Person, tripod: KitItem) -> None:
    lens = make_item("Lens")
    booking = make_booking(
        job=make_job("Last week", by=ada),
        starts_at=NOON - timedelta(days=7),
        items=(tripod, lens),
    )
    Booking.objects.filter(pk=booking.pk).update(status=BookingStatus.COMPLETED)

    (card,) = kit_to_tick_back(ada, NOON)
    backs = {tripod.pk: Back(CameBack.RETURNED, "")}
    tick_kit_back(booking_id=booking.pk, items=backs, by=ada, at=NOON)
    (less,) = kit_to_tick_back(ada, NOON)
    rest = {lens.pk: Back(CameBack.MISSING, "On the pier")}
    tick_kit_back(booking_id=booking.pk, items=rest, by=ada, at=NOON)

    assert card.title == "Tick the kit of Last week back"
    assert card.reason.startswith("2 of 2 not ticked. It ended on")
    assert less.reason.startswith("1 of 2 not ticked.")
    assert kit_to_tick_back(ada, NOON) == []
    assert kit_to_tick_back(ada, NOON + timedelta(days=30)) == []
