"""How far a set-up's shutter may go, and what it comes to under another sky."""

from math import log2

import pytest

from planning.shoots.choices import SkyWord
from planning.shoots.operations import choose_sky
from planning.shoots.queries import fallbacks, planned_shoot
from planning.shoots.shown import shown_plan
from planning.shoots.words import fallback_words, range_words, sharp_words
from tests.make import NOON
from tests.make_planning import make_shoot

pytestmark = pytest.mark.django_db


def test_the_range_of_shutters_is_as_wide_as_the_bounds_of_the_light() -> None:
    # ISO 516's dial marks lie a third of a stop apart, so that a range of marks is
    # within a third of the bounds' own width at each end.
    one = planned_shoot(make_shoot()).set_ups[0]

    slow, fast = range_words(one).split(" to ")

    dark = min(level.exposure_value - level.low_stops for level in (one.start, one.end))
    bright = max(
        level.exposure_value + level.high_stops for level in (one.start, one.end)
    )
    stops = log2(float(fast.removeprefix("1/")) / float(slow.removeprefix("1/")))
    assert stops == pytest.approx(bright - dark, abs=0.5)


def test_a_set_up_by_flash_has_one_shutter() -> None:
    assert range_words(planned_shoot(make_shoot()).set_ups[3]) == ""


def test_pages_show_the_range() -> None:
    first = shown_plan(planned_shoot(make_shoot())).set_ups[0]

    assert first.range_words == "1/100 to 1/200"


def test_the_fallback_of_a_clear_plan_is_overcast_and_of_a_grey_one_clear() -> None:
    booking = make_shoot()
    clear = fallbacks(planned_shoot(booking))
    choose_sky(
        plan_id=booking.shoot_plan.pk,
        sky=SkyWord.DARK,
        by=booking.job.owner,
        at=NOON,
    )
    dark = fallbacks(planned_shoot(booking))

    assert {one.sky_words for one in clear} == {"overcast"}
    assert {one.sky_words for one in dark} == {"clear"}
    assert fallback_words(clear[0]).startswith("If overcast: f/")


def test_what_gives_is_what_the_plan_did_not_give_up_already() -> None:
    booking = make_shoot()
    now = planned_shoot(booking, sky=SkyWord.OVERCAST).set_ups[1].suggestion
    was = planned_shoot(booking).set_ups[1].suggestion
    assert now is not None
    assert was is not None

    gives = fallbacks(planned_shoot(booking))[1].gives

    more = {one.name for one in now.gave_way} - {one.name for one in was.gave_way}
    assert now.broken is None
    assert all(name.value in gives for name in more)
    assert bool(gives) is bool(more)


def test_depth_too_thin_for_a_tenth_is_told_finer() -> None:
    assert sharp_words(5.41, 6.72) == "Sharp 5.4–6.7 m"
    assert sharp_words(1.384, 1.417) == "Sharp 1.38–1.42 m"
    assert sharp_words(0.4011, 0.4013) == "Sharp at 0.40 m only"
    assert sharp_words(3.0, float("inf")) == "Sharp 3.0–∞ m"
