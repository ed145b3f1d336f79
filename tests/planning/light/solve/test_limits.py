from dataclasses import replace
from math import inf, log2

import pytest

from planning.light.solve import (
    Aim,
    Ambient,
    Body,
    Flash,
    Lens,
    Limit,
    LimitName,
    Subject,
    Support,
    suggest,
)
from planning.light.solve.limits import aperture_text
from planning.light.solve.times import HAND_CAP_S, read_times
from tests.planning.light.solve.cases import PORTRAIT, limit

SURE = Ambient(exposure_value=11.0, low_stops=0.0, high_stops=0.0)


def test_a_limit_is_met_to_the_last_bit_and_no_further() -> None:
    def with_margin(margin: float) -> Limit:
        return Limit(name=LimitName.HAND, sentence="", margin_stops=margin)

    assert with_margin(0.0).met
    assert with_margin(-1e-12).met
    assert with_margin(-1e-12).short_stops == 0.0
    assert not with_margin(-0.01).met
    assert with_margin(-0.01).short_stops == 0.01
    assert with_margin(2.0).short_stops == 0.0


def test_hands_hold_one_over_the_focal_length_on_a_small_sensor_too() -> None:
    small = Body(sensor_width_mm=23.5, sensor_height_mm=15.6)

    full = limit(suggest(PORTRAIT), LimitName.HAND)
    cropped = limit(suggest(replace(PORTRAIT, body=small)), LimitName.HAND)

    assert full.sentence == "1/85 s or faster is steady by hand at 85 mm"
    assert cropped.sentence.startswith("1/131 s")  # 85 x 1.534


def test_a_stabiliser_is_trusted_one_stop_less_than_rated() -> None:
    # CIPA DC-X011 ratings are a laboratory's; one stop less is common practice.
    rated = replace(PORTRAIT.lens, stabilisation_stops=3.0)
    weak = replace(PORTRAIT.lens, stabilisation_stops=0.5)

    assert limit(
        suggest(replace(PORTRAIT, lens=rated)), LimitName.HAND
    ).sentence.startswith("1/22 s")  # 85/4
    assert limit(
        suggest(replace(PORTRAIT, lens=weak)), LimitName.HAND
    ).sentence.startswith("1/85 s")


def test_advice_on_hand_holding_is_capped_at_an_eighth() -> None:
    # Common practice, no source: the formula alone would allow 128/14 = 9 s.
    wide = Lens(focal_length_mm=14.0, widest_f_number=2.8, stabilisation_stops=8.0)

    assert HAND_CAP_S == 0.125
    assert limit(
        suggest(replace(PORTRAIT, lens=wide)), LimitName.HAND
    ).sentence.startswith("1/8 s")


def test_a_tripod_lifts_the_limit_of_hands() -> None:
    on_tripod = suggest(replace(PORTRAIT, support=Support.TRIPOD))

    assert all(found.name is not LimitName.HAND for found in on_tripod.limits)


def test_a_walk_has_its_limit_with_the_margin_of_the_dark_end() -> None:
    walk = replace(PORTRAIT, subject=Subject(distance_m=4.0, speed_m_s=1.4))

    answer = suggest(walk)
    found = limit(answer, LimitName.MOTION)

    assert found.sentence == "1/507 s or faster stops a subject at 1.4 m/s"
    assert found.margin_stops == pytest.approx(
        log2(0.06 / 30.396 / answer.shutter_dark.exact), abs=1e-3
    )


def test_acceptable_blur_is_smaller_on_a_smaller_sensor() -> None:
    walk = replace(
        PORTRAIT,
        subject=Subject(distance_m=4.0, speed_m_s=1.4),
        body=Body(sensor_width_mm=18.0, sensor_height_mm=12.0),
    )

    assert limit(suggest(walk), LimitName.MOTION).sentence.startswith("1/1014 s")


def test_depth_is_held_with_the_margin_of_the_aperture() -> None:
    group = Subject(distance_m=4.0, depth_m=0.65, people=4)

    answer = suggest(replace(PORTRAIT, subject=group))
    found = limit(answer, LimitName.DEPTH)

    # f/5.2 by hand (zone_f_number), f/8 as found: 1.2 stops.
    assert found.sentence == "f/5.6 or narrower holds all four sharp, 65 cm deep"
    assert answer.f_number.nominal == "f/8"
    assert found.margin_stops == pytest.approx(2 * log2(8.0 / 5.23), abs=0.01)
    assert answer.focus_m == pytest.approx(2 * 3.675 * 4.325 / 8.0)
    assert answer.zone.near_m <= 3.675
    assert answer.zone.far_m >= 4.325


def test_a_group_deeper_than_the_narrowest_aperture_holds_is_named() -> None:
    crowd = Subject(distance_m=4.0, depth_m=4.0, people=30)

    answer = suggest(
        replace(PORTRAIT, light=Ambient(exposure_value=15.0), subject=crowd)
    )

    assert answer.f_number.nominal == "f/22"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.DEPTH
    assert answer.broken.sentence == "f/43 or narrower holds all 30 sharp, 4.0 m deep"
    assert answer.broken.short_stops == pytest.approx(2 * log2(42.97 / 22.63), abs=0.02)


def test_all_sharp_holds_the_background_too() -> None:
    before_hills = Subject(distance_m=3.0, background_m=200.0)
    wide = Lens(focal_length_mm=24.0, widest_f_number=2.8)
    request = replace(PORTRAIT, lens=wide, subject=before_hills)

    sharp = suggest(replace(request, aim=Aim.ALL_SHARP))
    balanced = suggest(request)

    assert limit(sharp, LimitName.DEPTH).sentence == (
        "f/3.5 or narrower holds everything from 3.0 m to 200 m"
    )
    assert sharp.zone.far_m >= 200.0
    assert all(found.name is not LimitName.DEPTH for found in balanced.limits)


@pytest.mark.parametrize(
    ("f_number", "text"),
    [(0.7, "f/1"), (1.0, "f/1"), (5.3, "f/5.6"), (31.0, "f/32"), (35.5, "f/36")],
)
def test_an_aperture_beyond_every_dial_is_named_by_its_value(
    f_number: float, text: str
) -> None:
    assert aperture_text(f_number) == text


def test_a_lens_focuses_no_nearer_than_it_can() -> None:
    lens = replace(PORTRAIT.lens, close_focus_m=0.8)
    near = replace(PORTRAIT, lens=lens, subject=Subject(distance_m=0.4))

    found = limit(suggest(near), LimitName.CLOSE_FOCUS)

    assert found.margin_stops == pytest.approx(-2.0)  # half of it: two stops of light
    assert found.sentence == "the lens focuses no nearer than 80 cm"
    assert limit(
        suggest(replace(near, subject=Subject(distance_m=0.8))), LimitName.CLOSE_FOCUS
    ).met


def test_the_camera_s_own_ends_are_limits() -> None:
    answer = suggest(replace(PORTRAIT, light=SURE))
    # EV 11 at f/2.5 and ISO 100: 2.67 - 11, so 1/320 s; to 1/8000 s and to 30 s.

    assert answer.settings == "f/2.5, 1/320 s, ISO 100"
    assert limit(answer, LimitName.FASTEST).margin_stops == pytest.approx(14 / 3)
    assert limit(answer, LimitName.SLOWEST).margin_stops == pytest.approx(40 / 3)
    assert limit(answer, LimitName.NOISE).margin_stops == pytest.approx(6.0)
    assert limit(answer, LimitName.FASTEST).sentence.endswith("1/8000 s")
    assert limit(answer, LimitName.SLOWEST).sentence.endswith("30 s")
    assert limit(answer, LimitName.NOISE).sentence == "ISO 6400 is the highest liked"


def test_diffraction_is_a_wish_and_not_a_must() -> None:
    bright = replace(
        PORTRAIT,
        light=Ambient(exposure_value=15.0),
        lens=Lens(focal_length_mm=35.0, widest_f_number=2.0, narrowest_f_number=32.0),
        subject=Subject(distance_m=0.9, background_m=inf),
        aim=Aim.ALL_SHARP,
    )

    answer = suggest(bright)
    found = limit(answer, LimitName.DIFFRACTION)

    # 28.84 um over 2.44 x 0.55 um x (1 + m): f/21, against f/25 here.
    assert answer.f_number.nominal == "f/25"
    assert not found.must
    assert not found.met
    assert answer.fits
    assert found.sentence == "f/21 or wider keeps diffraction out of sight"
    assert found.margin_stops == pytest.approx(2 * log2(21.07 / 25.4), abs=0.02)


@pytest.mark.parametrize(
    ("exposure_value", "iso", "shutter_s"),
    [
        # Critical: 1/1676 s, so 1/2000 s. f/1.8 and ISO 400 give that down to EV 10.67.
        (12.67, "ISO 100", 1 / 2048),
        (10.67, "ISO 400", 1 / 2048),
        # Below, the acceptable 1/838 s, so 1/1000 s, at ISO 400 down to EV 9.67.
        (9.67, "ISO 400", 1 / 1024),
        (8.67, "ISO 800", 1 / 1024),
    ],
)
def test_freezing_asks_for_the_critical_blur_while_iso_is_comfortable(
    exposure_value: float, iso: str, shutter_s: float
) -> None:
    child = replace(
        PORTRAIT,
        light=replace(SURE, exposure_value=exposure_value),
        subject=Subject(distance_m=6.0, speed_m_s=3.5),
        aim=Aim.FREEZE,
    )

    answer = suggest(child)

    assert answer.iso.nominal == iso
    assert answer.shutter.exact == pytest.approx(shutter_s)
    # 3.5 m/s at 6 m on 85 mm is 50.30 mm/s over the sensor.
    assert answer.blur_mm == pytest.approx(50.30 * shutter_s, rel=1e-3)


def test_blur_on_purpose_wants_a_twentieth_of_the_frame() -> None:
    walker = replace(
        PORTRAIT,
        light=Ambient(exposure_value=12.0),
        subject=Subject(distance_m=4.0, speed_m_s=1.4),
        support=Support.TRIPOD,
        aim=Aim.BLUR,
    )

    answer = suggest(walker)

    # 1.2 mm at 30.4 mm/s is 1/25.3 s; the stop 1/25 s is 1/25.4 s, a trifle too fast.
    assert limit(answer, LimitName.STREAK).sentence.startswith("1/26 s or slower")
    assert answer.shutter.nominal == "1/20 s"
    assert answer.fits


def test_blur_on_purpose_keeps_somebody_in_the_picture() -> None:
    # At night a tripod could stand for seconds; two stops over the blur wanted, 1/6 s,
    # the subject dissolves, so ISO rises, but no higher than is comfortable.
    def answer_in(exposure_value: float) -> tuple[str, str]:
        answer = suggest(
            replace(
                PORTRAIT,
                light=replace(SURE, exposure_value=exposure_value),
                subject=Subject(distance_m=4.0, speed_m_s=1.4),
                support=Support.TRIPOD,
                aim=Aim.BLUR,
            )
        )
        return answer.shutter.nominal, answer.iso.nominal

    assert answer_in(5.33) == ("1/6 s", "ISO 100")
    assert answer_in(5.0) == ("1/6 s", "ISO 125")
    assert answer_in(3.33) == ("1/6 s", "ISO 400")
    assert answer_in(1.33) == ("0.6 s", "ISO 400")


def test_a_subject_dissolves_two_stops_over_the_blur_wanted() -> None:
    walker = Subject(distance_m=4.0, speed_m_s=1.4)
    times = read_times(replace(PORTRAIT, subject=walker, aim=Aim.BLUR))

    assert times.streak_s == pytest.approx(1.2 / 30.396, rel=1e-4)
    assert times.dissolve_s == pytest.approx(4.8 / 30.396, rel=1e-4)
    assert times.motion_s is None
    assert times.critical_s is None


def test_blur_that_cannot_be_had_is_said_and_not_hidden() -> None:
    still = replace(
        PORTRAIT, subject=Subject(distance_m=4.0, speed_m_s=0.0), aim=Aim.BLUR
    )
    in_studio = replace(
        still,
        light=None,
        subject=Subject(distance_m=4.0, speed_m_s=1.4),
        flash=Flash(guide_number_m=40.0, distance_m=2.0),
    )

    for request, why in (
        (still, "nothing moves across the frame"),
        (in_studio, "the flash stops it"),
    ):
        answer = suggest(request)

        assert answer.broken is not None
        assert answer.broken.margin_stops == -inf
        assert answer.broken.short_stops == inf
        assert answer.broken.sentence == f"there is no blur to have: {why}"
        assert not answer.fits

    assert (
        "There is no blur to have: nothing moves across the frame."
        in suggest(still).reasons
    )


def test_thin_focus_gives_way_to_the_fastest_shutter_and_says_so() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            light=replace(SURE, exposure_value=16.0),
            aim=Aim.THIN_FOCUS,
            body=Body(fastest_shutter_s=1 / 4000),
        )
    )

    # EV 16 at 1/4000 s and ISO 100 is f/4: 2.3 stops narrower than f/1.8.
    assert answer.settings == "f/4, 1/4000 s, ISO 100"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.THIN_FOCUS
    assert answer.broken.sentence == "f/1.8 or wider throws the background out"
    assert answer.broken.short_stops == pytest.approx(7 / 3)


def test_more_light_than_the_camera_takes_is_a_broken_limit() -> None:
    lens = Lens(focal_length_mm=85.0, widest_f_number=1.8, narrowest_f_number=4.0)
    answer = suggest(
        replace(
            PORTRAIT,
            light=replace(SURE, exposure_value=18.0),
            lens=lens,
            body=Body(fastest_shutter_s=1 / 1000),
        )
    )

    # EV 18 wants 1/16384 s at f/4: four stops past 1/1000 s, and so over-exposed.
    assert answer.settings == "f/4, 1/1000 s, ISO 100"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.FASTEST
    assert answer.broken.short_stops == pytest.approx(4.0)
    assert answer.exposure_error_stops == pytest.approx(4.0)


def test_less_light_than_the_camera_takes_is_a_broken_limit() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            light=replace(SURE, exposure_value=-9.0),
            subject=Subject(distance_m=3.0, speed_m_s=0.0),
            support=Support.TRIPOD,
            body=Body(slowest_shutter_s=1.0, highest_iso=800.0),
        )
    )

    # EV -9 at f/1.8 and ISO 800 wants 2^(1.67 - 3 + 9) s: 7.67 stops over 1 s.
    assert answer.settings == "f/1.8, 1 s, ISO 800"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.SLOWEST
    assert answer.broken.short_stops == pytest.approx(23 / 3)
    assert answer.exposure_error_stops == pytest.approx(-23 / 3)


def test_the_tightest_limit_is_the_one_with_least_to_spare() -> None:
    answer = suggest(PORTRAIT)

    assert answer.tightest is not None
    assert answer.tightest.must
    assert answer.tightest.margin_stops == min(
        found.margin_stops for found in answer.limits if found.must
    )
