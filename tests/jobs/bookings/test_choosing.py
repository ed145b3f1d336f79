"""Of several items that will do, the first that is free and in order goes out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from jobs.bookings.choosing import free_instead, items_of_kits
from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking
from jobs.kits.models import Kit, KitItem, Trouble
from jobs.kits.operations import KitContent, keep_kit, report_trouble, retire_item
from jobs.kits.queries import kit_shelf
from studio.effects import Change, effects_of
from tests.make import NOON, make_booking, make_item, make_person, make_profile

pytestmark = pytest.mark.django_db
START = NOON + timedelta(days=10)


@pytest.fixture
def items() -> list[KitItem]:
    make_profile()
    return [make_item(name) for name in ("Lens", "Camera A", "Camera B", "Camera C")]


@pytest.fixture
def kit(items: list[KitItem]) -> Kit:
    lens, *cameras = items
    holds = KitContent(item_ids=[lens.pk], one_of=[[one.pk for one in cameras]])
    return keep_kit(name="Bag", holds=holds, by=make_person(), at=NOON)


def held(*items: KitItem) -> Booking:
    booking = make_booking(items=items, starts_at=START)
    return confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)


def chosen(kit: Kit, booking: Booking, already: tuple[int, ...] = ()) -> set[str]:
    found = items_of_kits([kit.pk], span=booking.span, already=already)
    return set(KitItem.objects.filter(pk__in=found).values_list("name", flat=True))


def test_the_first_that_is_free_goes_out(kit: Kit, items: list[KitItem]) -> None:
    _, first, second, _ = items
    other = make_booking(starts_at=START + timedelta(minutes=30))
    assert chosen(kit, other) == {"Lens", "Camera A"}

    booking = held(first)
    assert chosen(kit, other) == {"Lens", "Camera B"}
    report_trouble(
        item_id=second.pk,
        trouble=Trouble.DAMAGED,
        note="",
        by=booking.job.owner,
        at=NOON,
    )
    assert chosen(kit, other) == {"Lens", "Camera C"}

    own = items_of_kits([kit.pk], span=booking.span, but=booking)
    assert first.pk in own


def test_where_none_is_free_the_first_is_named(kit: Kit, items: list[KitItem]) -> None:
    held(*items[1:])

    assert chosen(kit, make_booking(starts_at=START)) == {"Lens", "Camera A"}


def test_what_is_wanted_already_fills_the_position(
    kit: Kit, items: list[KitItem]
) -> None:
    booking = make_booking(starts_at=START)

    assert chosen(kit, booking, already=(items[3].pk,)) == {"Lens"}
    assert items_of_kits([], span=None) == set()
    assert chosen(kit, booking) == chosen(kit, booking)


def test_two_positions_do_not_take_one_item(items: list[KitItem]) -> None:
    cameras = [one.pk for one in items[1:3]]
    kit = keep_kit(
        name="Two bodies",
        holds=KitContent(one_of=[cameras, cameras]),
        by=make_person(),
        at=NOON,
    )

    assert items_of_kits([kit.pk], span=None) == set(cameras)


def test_a_position_goes_over_to_another_of_its_own_where_that_helps(
    items: list[KitItem],
) -> None:
    _, first, second, third = items
    kit = keep_kit(
        name="Two bodies",
        holds=KitContent(one_of=[[first.pk, second.pk], [first.pk, third.pk]]),
        by=make_person(),
        at=NOON,
    )
    held(third)

    assert chosen(kit, make_booking(starts_at=START)) == {"Camera A", "Camera B"}


def test_a_move_is_told_what_could_go_instead(kit: Kit, items: list[KitItem]) -> None:
    _, first, second, third = items
    rival = held(first)
    mine = make_booking(items=(first,), starts_at=START + timedelta(days=2))
    confirm_booking(booking_id=mine.pk, by=mine.job.owner, at=NOON)
    retire_item(item_id=second.pk, by=mine.job.owner, at=NOON)
    change = Change(
        booking=mine, at=NOON, starts_at=rival.starts_at, ends_at=rival.ends_at
    )

    told = [one.words for one in effects_of(change, mine.job.owner)]

    assert f"{third} is free then: take it in place of {first} first." in told
    assert free_instead(items[0].pk, span=rival.span, but=mine, held=[first.pk]) is None


def test_the_shelf_says_what_is_one_of_several(kit: Kit) -> None:
    assert kit_shelf().kits[0].items == "Lens, Camera A or Camera B or Camera C"
