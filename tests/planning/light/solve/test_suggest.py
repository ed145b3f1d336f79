from dataclasses import replace

import pytest

from planning.light.optics import background_blur_mm
from planning.light.solve import (
    Aim,
    Ambient,
    Body,
    ExposureMode,
    Flash,
    GaveName,
    Lens,
    LimitName,
    Subject,
    Support,
    suggest,
)
from tests.planning.light.solve.cases import PORTRAIT, limit

SURE = Ambient(exposure_value=11.0, low_stops=0.0, high_stops=0.0)
FOUR = Subject(distance_m=5.0, depth_m=0.8, people=4)


def test_a_set_up_in_open_shade_is_answered_in_full() -> None:
    # By hand: 0.8 m at 5 m on 85 mm needs f/4.07, so f/4.5, and a stop to spare, f/6.3.
    # EV 10.9 falls to 10.6, 10.27 at the dark end: at f/6.3 and ISO 320 that is
    # 1/100 s, the slowest stop that hands hold at 85 mm.
    answer = suggest(
        replace(
            PORTRAIT,
            light=Ambient(exposure_value=10.9),
            light_end=Ambient(exposure_value=10.6),
            subject=FOUR,
        )
    )

    assert answer.settings == "f/6.3, 1/160 s, ISO 320"
    assert answer.shutter_end is not None
    assert answer.shutter_end.nominal == "1/125 s"
    assert answer.shutter_dark.nominal == "1/100 s"
    assert answer.shutter_bright.nominal == "1/200 s"
    assert answer.exposure_value == 10.9
    assert answer.exposure_value_end == 10.6
    assert answer.fits
    assert answer.broken is None
    assert answer.mode is ExposureMode.MANUAL
    assert answer.zone.near_m == pytest.approx(4.42, abs=0.01)
    assert answer.zone.far_m == pytest.approx(5.67, abs=0.01)
    assert answer.dark_end == "At the dark end, EV 10.3, it is 1/100 s."
    assert answer.bright_end == "At the bright end, EV 11.2, it is 1/200 s."
    assert [gave.name for gave in answer.gave_way] == [GaveName.LOW_NOISE]
    assert answer.gave_way[0].stops == pytest.approx(5 / 3)
    assert answer.gave_way[0].sentence == (
        "ISO 320 instead of ISO 100: 1/85 s by hand, and the light may be EV 10.3"
    )
    assert answer.reasons == (
        "f/6.3 keeps 4.4–5.7 m sharp; f/4.5 or narrower holds all four sharp, "
        "80 cm deep.",
        "1/100 s at the dark end still serves: 1/85 s or faster is steady by hand "
        "at 85 mm.",
        "ISO 320 makes up 1.7 stops: 1/85 s by hand, and the light may be EV 10.3.",
        "Manual: the light holds still within a stop.",
    )


def test_steady_light_has_no_second_shutter() -> None:
    answer = suggest(replace(PORTRAIT, light=SURE, light_end=SURE))

    assert answer.shutter_end is None
    assert answer.shutter_dark == answer.shutter == answer.shutter_bright
    assert answer.exposure_error_stops == pytest.approx(0.0, abs=1 / 6)


def test_light_that_grows_is_met_at_its_first_and_darkest() -> None:
    dawn = replace(
        PORTRAIT,
        light=replace(SURE, exposure_value=9.0),
        light_end=replace(SURE, exposure_value=11.0),
        subject=Subject(distance_m=4.0, speed_m_s=1.4),
    )

    answer = suggest(dawn)

    assert answer.fits
    assert answer.shutter_dark == answer.shutter
    assert answer.shutter_end == answer.shutter_bright
    assert limit(answer, LimitName.MOTION).margin_stops < 1 / 3


def test_a_wide_range_of_light_is_served_at_its_dark_end() -> None:
    cloud = Ambient(exposure_value=11.0, low_stops=2.0, high_stops=1.0)

    answer = suggest(replace(PORTRAIT, light=cloud, subject=FOUR))

    assert answer.fits
    assert answer.shutter_dark.exact <= 1 / 85
    assert answer.shutter.exact == pytest.approx(answer.shutter_dark.exact / 4.0)
    assert answer.shutter_bright.exact == pytest.approx(answer.shutter.exact / 2.0)


def test_the_bright_end_says_what_it_runs_into() -> None:
    bright = Ambient(exposure_value=14.0, low_stops=0.0, high_stops=3.0)

    answer = suggest(replace(PORTRAIT, light=bright, aim=Aim.THIN_FOCUS))

    # EV 17 at f/1.8 wants 1/41000 s, 2.33 stops past 1/8000 s.
    assert answer.fits
    assert answer.bright_end == (
        "At the bright end, EV 17.0, it is 1/8000 s and 2.3 stops too bright still: "
        "stop down."
    )


def test_base_iso_is_where_a_set_up_starts() -> None:
    body = Body(base_iso=64.0)

    answer = suggest(replace(PORTRAIT, light=SURE, body=body))

    assert answer.iso.nominal == "ISO 64"
    assert answer.reasons[2] == "ISO 64 is the camera's cleanest."


def test_depth_to_spare_goes_before_the_group_s_own() -> None:
    answer = suggest(
        replace(PORTRAIT, light=replace(SURE, exposure_value=6.5), subject=FOUR)
    )

    assert answer.fits
    assert [gave.name for gave in answer.gave_way] == [
        GaveName.LOW_NOISE,
        GaveName.SPARE_DEPTH,
    ]
    assert answer.f_number.nominal == "f/4.5"
    assert answer.gave_way[1].sentence.startswith("f/4.5 instead of f/6.3: 1/85 s")
    assert answer.gave_way[1].stops == pytest.approx(1.0)


def test_low_noise_gives_depth_to_spare_first() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            light=replace(SURE, exposure_value=8.0),
            subject=FOUR,
            aim=Aim.LOW_NOISE,
        )
    )

    assert answer.f_number.nominal == "f/4.5"
    assert [gave.name for gave in answer.gave_way] == [
        GaveName.SPARE_DEPTH,
        GaveName.LOW_NOISE,
    ]


def test_what_breaks_is_the_last_to_give_way() -> None:
    answer = suggest(
        replace(PORTRAIT, light=replace(SURE, exposure_value=2.0), subject=FOUR)
    )

    assert answer.gave_way[-1].name is GaveName.LIMIT
    assert answer.gave_way[-1].sentence == (
        "Hand-holding is broken: 1/85 s or faster is steady by hand at 85 mm"
    )
    assert answer.broken is not None
    assert answer.gave_way[-1].stops == answer.broken.short_stops
    assert answer.settings == "f/4.5, 1/13 s, ISO 6400"
    assert answer.exposure_error_stops == pytest.approx(0.0, abs=1 / 6)


def test_freezing_gives_depth_away_before_sharp_motion() -> None:
    runners = replace(
        PORTRAIT,
        light=replace(SURE, exposure_value=8.0),
        subject=Subject(distance_m=4.0, depth_m=0.5, people=3, speed_m_s=3.5),
        aim=Aim.FREEZE,
    )

    answer = suggest(runners)

    # 1/1267 s, so 1/1290 s (1/1250 s by name), at ISO 6400: EV 8 leaves f/3.5.
    assert answer.settings == "f/3.5, 1/1250 s, ISO 6400"
    assert limit(answer, LimitName.MOTION).met
    assert answer.broken is not None
    assert answer.broken.name is LimitName.DEPTH
    assert [gave.name for gave in answer.gave_way] == [
        GaveName.LOW_NOISE,
        GaveName.LIMIT,
    ]
    assert "short" in answer.reasons[0]


def test_light_enough_to_stop_down_is_said() -> None:
    answer = suggest(replace(PORTRAIT, light=replace(SURE, exposure_value=17.0)))

    # EV 17 at 1/8000 s (13 stops) is f/4; the home of f/1.8 is f/2.5.
    assert answer.settings == "f/4, 1/8000 s, ISO 100"
    assert answer.fits
    assert answer.gave_way[0].name is GaveName.OPEN_APERTURE
    assert answer.gave_way[0].stops == pytest.approx(4 / 3)
    assert answer.gave_way[0].sentence == (
        "f/4 instead of f/2.5: 1/8000 s is the fastest shutter"
    )


def test_blur_on_purpose_says_why_the_lens_is_stopped_down() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            light=Ambient(exposure_value=12.0),
            subject=Subject(distance_m=4.0, speed_m_s=1.4),
            support=Support.TRIPOD,
            aim=Aim.BLUR,
        )
    )

    assert answer.gave_way[0].sentence.endswith("the blur needs a slow shutter")


def test_the_background_s_blur_is_worked_out_where_it_is_known() -> None:
    answer = suggest(
        replace(
            PORTRAIT,
            subject=Subject(distance_m=2.0, background_m=5.0),
            aim=Aim.THIN_FOCUS,
        )
    )

    # The sheet's 1.258 mm at f/1.8 exactly; the stop of that name is f/1.782.
    assert answer.background_blur_mm == pytest.approx(
        background_blur_mm(
            focal_length_mm=85.0, f_number=1.7818, focus_m=2.0, object_m=5.0
        ),
        rel=1e-4,
    )
    assert suggest(PORTRAIT).background_blur_mm is None


def test_a_board_gives_the_ratio_of_lit_and_shadow_side() -> None:
    answer = suggest(replace(PORTRAIT, fill_share=0.25))

    assert answer.ratio is not None
    assert answer.ratio.incident_key_to_fill == pytest.approx(4.0)
    assert answer.ratio.key_plus_fill_to_fill == pytest.approx(5.0)
    assert answer.reasons[-2] == (
        "Lit side to shadow side 5.0:1 (key to fill by themselves 4.0:1)."
    )
    assert suggest(PORTRAIT).ratio is None
    assert suggest(replace(PORTRAIT, fill_share=1e-6)).ratio is None


def test_a_deep_group_is_focused_before_its_middle() -> None:
    answer = suggest(
        replace(PORTRAIT, subject=Subject(distance_m=4.0, depth_m=1.4, people=6))
    )

    # The harmonic mean of 3.3 and 4.7 m: 3.88 m.
    assert answer.focus_m == pytest.approx(3.8775)
    assert (
        "Focus at 3.9 m, a little nearer than the middle, to share the zone out evenly."
        in answer.reasons
    )


@pytest.mark.parametrize(("depth_m", "said"), [(1.12, False), (1.14, True)])
def test_a_focus_within_a_fiftieth_of_the_middle_is_not_worth_a_word(
    depth_m: float, said: bool
) -> None:
    # The harmonic mean lies d^2/(4 s) before the middle: 2 % of 4 m at d = 1.131 m.
    answer = suggest(
        replace(PORTRAIT, subject=Subject(distance_m=4.0, depth_m=depth_m))
    )

    assert any("Focus at" in reason for reason in answer.reasons) == said


CLOUD = Ambient(exposure_value=12.0, low_stops=1.0, high_stops=1.0)


@pytest.mark.parametrize(
    ("aim", "mode"),
    [
        (Aim.FREEZE, ExposureMode.SHUTTER_PRIORITY),
        (Aim.BLUR, ExposureMode.SHUTTER_PRIORITY),
        (Aim.THIN_FOCUS, ExposureMode.APERTURE_PRIORITY),
        (Aim.ALL_SHARP, ExposureMode.APERTURE_PRIORITY),
        (Aim.LOW_NOISE, ExposureMode.APERTURE_PRIORITY),
        (Aim.BALANCED, ExposureMode.PROGRAM),
    ],
)
def test_moving_light_wants_a_mode_that_follows_it(
    aim: Aim, mode: ExposureMode
) -> None:
    # Common practice, no source.
    answer = suggest(replace(PORTRAIT, light=CLOUD, aim=aim))

    assert answer.mode is mode
    assert answer.reasons[-1].lower().startswith(mode)


def test_a_balanced_set_up_without_a_stop_to_spare_is_not_left_to_the_camera() -> None:
    dim = Ambient(exposure_value=9.0, low_stops=1.0, high_stops=1.0)
    walk = Subject(distance_m=4.0, speed_m_s=1.4)

    walking = suggest(replace(PORTRAIT, light=dim, subject=walk))
    group = suggest(replace(PORTRAIT, light=dim, subject=FOUR))
    deep_walk = suggest(
        replace(PORTRAIT, light=dim, subject=replace(FOUR, speed_m_s=1.4))
    )

    slow = suggest(replace(PORTRAIT, light=dim, subject=replace(walk, speed_m_s=0.99)))
    quick = suggest(replace(PORTRAIT, light=dim, subject=replace(walk, speed_m_s=1.0)))

    assert slow.mode is ExposureMode.APERTURE_PRIORITY
    assert quick.mode is ExposureMode.SHUTTER_PRIORITY
    assert walking.mode is ExposureMode.SHUTTER_PRIORITY
    assert group.mode is ExposureMode.APERTURE_PRIORITY
    assert deep_walk.mode is ExposureMode.APERTURE_PRIORITY


@pytest.mark.parametrize(
    ("focal_mm", "mode"),
    [(64.0, ExposureMode.PROGRAM), (65.0, ExposureMode.APERTURE_PRIORITY)],
)
def test_program_wants_a_whole_stop_to_spare(
    focal_mm: float, mode: ExposureMode
) -> None:
    # EV 10 at the dark end, f/2.5 and ISO 100: 1/128 to 1/161 s; 1/161 s is a stop and
    # a third from 1/64 s.
    lens = Lens(focal_length_mm=focal_mm, widest_f_number=2.5, narrowest_f_number=2.8)
    light = Ambient(exposure_value=10.0, low_stops=0.0, high_stops=1.5)

    answer = suggest(replace(PORTRAIT, light=light, lens=lens))

    assert answer.shutter_dark.nominal == "1/125 s"
    assert answer.mode is mode


def test_light_within_a_stop_is_metered_once() -> None:
    just = Ambient(exposure_value=12.0, low_stops=0.5, high_stops=0.5)
    more = Ambient(exposure_value=12.0, low_stops=0.51, high_stops=0.51)
    falling = replace(
        PORTRAIT,
        light=replace(SURE, exposure_value=12.0),
        light_end=replace(SURE, exposure_value=10.5),
    )

    assert suggest(replace(PORTRAIT, light=just)).mode is ExposureMode.MANUAL
    assert suggest(replace(PORTRAIT, light=more)).mode is not ExposureMode.MANUAL
    assert suggest(falling).mode is not ExposureMode.MANUAL


def test_a_flash_is_used_in_manual() -> None:
    lit = replace(
        PORTRAIT, light=CLOUD, flash=Flash(guide_number_m=60.0, distance_m=1.5)
    )

    answer = suggest(lit)

    assert answer.mode is ExposureMode.MANUAL
    assert answer.reasons[-1] == "Manual: the flash is set for these settings."


def test_a_lens_marked_between_third_stops_is_not_opened_past_its_mark() -> None:
    lens = Lens(focal_length_mm=85.0, widest_f_number=1.9)

    answer = suggest(replace(PORTRAIT, lens=lens, aim=Aim.THIN_FOCUS))

    assert answer.f_number.nominal == "f/2"
