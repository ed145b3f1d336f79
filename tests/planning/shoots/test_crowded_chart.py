"""A light chart with many set-ups: numbers that stand on it can be read."""

from dataclasses import replace
from datetime import timedelta
from itertools import combinations

import pytest

from jobs.bookings.models import Booking
from planning.shoots.charts.light_chart import light_chart
from planning.shoots.models import ShootPlan
from planning.shoots.queries import planned_shoot
from planning.shoots.shown import NARROW_CHART
from studio.scene.drawing import Drawing, Text
from tests.make_planning import EVENING, make_set_up, make_shoot

pytestmark = pytest.mark.django_db


@pytest.fixture
def crowd() -> Booking:
    booking = make_shoot()
    plan = ShootPlan.objects.get()
    for number in range(36):
        at = EVENING + timedelta(minutes=8 * number)
        make_set_up(plan, at, minutes=8, camera_heading_deg=10.0 * number)
    return booking


def badges(chart: Drawing) -> list[Text]:
    return [
        op
        for op in chart.ops
        if isinstance(op, Text) and op.words.isdigit() and op.colour == "white"
    ]


@pytest.mark.parametrize("chosen", [0, 9, 17])
def test_numbers_on_the_curves_do_not_cover_one_another(
    crowd: Booking, chosen: int
) -> None:
    look = replace(NARROW_CHART, chosen=chosen)

    found = badges(light_chart(planned_shoot(crowd), look))

    radius = 0.82 * look.type_size
    on_curves = [one for one in found if one.size < look.type_size * 1.24]
    for one, other in combinations(on_curves, 2):
        assert max(abs(one.x - other.x), abs(one.y - other.y)) > 1.4 * radius
    assert len(on_curves) >= 8
    if chosen:
        assert str(chosen) in {one.words for one in on_curves}


def test_a_set_up_outside_the_hours_of_the_chart_is_not_drawn_at_its_edge(
    crowd: Booking,
) -> None:
    far = make_set_up(ShootPlan.objects.get(), EVENING + timedelta(hours=9))
    shoot = planned_shoot(crowd)

    words = {one.words for one in badges(light_chart(shoot))}

    assert str(far.position) not in words
    assert str(far.position) in light_chart(shoot).description
