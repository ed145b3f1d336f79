from datetime import timedelta

import pytest

from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import (
    StalePlanError,
    change_set_up,
    choose_sky,
    copy_set_up,
    move_set_up,
    remove_set_up,
    start_plan,
)
from studio.people.models import Person
from tests.make import NOON, make_booking, make_person
from tests.make_planning import make_set_up

pytestmark = pytest.mark.django_db
DAY = NOON + timedelta(days=10)


@pytest.fixture
def ada() -> Person:
    return make_person()


@pytest.fixture
def plan(ada: Person) -> ShootPlan:
    plan = start_plan(booking=make_booking(), by=ada, at=NOON)
    for n, name in enumerate(("wall", "sand", "pier")):
        make_set_up(plan, DAY + timedelta(minutes=40 * n), name=name)
    return plan


def order(plan: ShootPlan) -> list[tuple[int, str]]:
    rows = plan.set_ups.order_by("position")
    return [(one.position, one.name) for one in rows]


def named(plan: ShootPlan, name: str) -> SetUp:
    return plan.set_ups.get(name=name)


@pytest.mark.parametrize(
    ("name", "places", "result"),
    [
        ("wall", 1, ["sand", "wall", "pier"]),
        ("pier", -1, ["wall", "pier", "sand"]),
        ("pier", -9, ["pier", "wall", "sand"]),
        ("pier", 1, ["wall", "sand", "pier"]),
    ],
)
def test_a_set_up_moves_and_the_numbers_close_up(
    plan: ShootPlan, ada: Person, name: str, places: int, result: list[str]
) -> None:
    move_set_up(set_up_id=named(plan, name).pk, places=places, by=ada, at=NOON)

    assert order(plan) == list(enumerate(result, start=1))


def test_a_set_up_that_is_taken_out_leaves_no_gap(plan: ShootPlan, ada: Person) -> None:
    remove_set_up(set_up_id=named(plan, "sand").pk, by=ada, at=NOON)

    assert order(plan) == [(1, "wall"), (2, "pier")]


def test_a_copy_takes_its_shade_along_in_time(plan: ShootPlan, ada: Person) -> None:
    source = named(plan, "wall")
    source.shaded_from_at = source.starts_at + timedelta(minutes=10)
    source.save()
    later = source.starts_at + timedelta(hours=1)

    copy = copy_set_up(
        set_up_id=source.pk, plan_id=plan.pk, starts_at=later, by=ada, at=NOON
    )

    assert copy.position == 4
    assert copy.shaded_from_at == later + timedelta(minutes=10)
    assert copy.shaded_until_at is None


def test_a_stale_change_is_refused(plan: ShootPlan, ada: Person) -> None:
    row = named(plan, "wall")
    seen = ShootPlan.objects.get(pk=plan.pk).version
    choose_sky(plan_id=plan.pk, sky=SkyWord.OVERCAST, by=ada, at=NOON)

    with pytest.raises(StalePlanError):
        change_set_up(
            set_up_id=row.pk, details={"name": "late"}, by=ada, at=NOON, version=seen
        )

    row.refresh_from_db()
    assert row.name == "wall"


def test_a_booking_has_one_plan_however_often_it_is_started(
    plan: ShootPlan, ada: Person
) -> None:
    assert start_plan(booking=plan.booking, by=ada, at=NOON).pk == plan.pk
