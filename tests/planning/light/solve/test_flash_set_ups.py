from dataclasses import replace
from math import log2

import pytest

from planning.light.solve import (
    Aim,
    Ambient,
    Flash,
    FlashPurpose,
    GaveName,
    Lens,
    LimitName,
    RemedyName,
    Subject,
    Support,
    suggest,
)
from planning.light.solve.limits import flash_freezes
from planning.light.solve.scene import read_scene
from planning.light.solve.settle import settle
from tests.planning.light.solve.cases import limit
from tests.planning.light.solve.flash_scenes import (
    DUSK,
    STUDIO,
    SUN_FILL,
    SURE,
    light_on_the_face,
)


def test_flash_alone_is_set_at_sync_with_the_power_it_needs() -> None:
    answer = suggest(STUDIO)

    # f/6.3 for the head (f/4.5 and a stop): p = (6.35 x 1.5/60)^2 x 2^1.5 = 0.0713,
    # nearest on the dial 1/16 and a third.
    assert answer.settings == "f/6.3, 1/200 s, ISO 100"
    assert answer.flash is not None
    assert answer.flash.needed_power == pytest.approx(0.0713, abs=5e-5)
    assert answer.flash.mark == "1/16 +0.3"
    assert answer.flash.power == pytest.approx(2 ** (-11 / 3))
    assert answer.flash.reach_m == pytest.approx(1.5 / 0.0713**0.5, rel=1e-3)
    assert answer.exposure_error_stops == pytest.approx(
        log2(0.07874 / 0.07127), abs=1e-3
    )
    assert answer.exposure_value is None
    assert answer.exposure_value_end is None
    assert answer.ambient_under_stops is None
    assert answer.blur_mm == 0.0
    assert answer.fits
    assert answer.ratio is None
    assert answer.dark_end.startswith("Flash alone")
    assert answer.bright_end.startswith("Flash alone")
    assert answer.reasons[1] == (
        "1/200 s is the sync speed; the flash alone makes the exposure."
    )
    assert "Flash at 1/16 +0.3 power as the key light." in answer.reasons


def test_flash_alone_asks_nothing_of_hands_and_motion() -> None:
    names = {found.name for found in suggest(STUDIO).limits}

    assert not names & {LimitName.HAND, LimitName.MOTION}
    assert {LimitName.SYNC, LimitName.REACH, LimitName.LOWEST_POWER} <= names


def test_a_flash_too_weak_at_base_iso_gets_more() -> None:
    far = replace(STUDIO, flash=Flash(guide_number_m=20.0, distance_m=5.0))

    answer = suggest(far)

    # GN 20 at 5 m: f/4 at ISO 100, so f/6.3 wants 1.33 stops: ISO 250.
    assert answer.settings == "f/6.3, 1/200 s, ISO 250"
    assert answer.flash is not None
    assert answer.flash.mark == "1/1"
    assert answer.gave_way[0].name is GaveName.LOW_NOISE
    assert answer.gave_way[0].sentence.endswith("the flash needs it to reach")


def test_a_subject_out_of_reach_is_said_with_the_stops() -> None:
    hall = replace(
        STUDIO,
        subject=Subject(distance_m=30.0, depth_m=2.0, people=20),
        flash=Flash(guide_number_m=10.0, distance_m=60.0, loss_stops=2.0),
        body=replace(STUDIO.body, highest_iso=400.0),
    )

    answer = suggest(hall)
    broken = answer.broken

    # f/1.8 and ISO 400: p = (1.78 x 60/10)^2/4 x 4 = 114, 6.8 stops out of reach.
    assert answer.f_number.nominal == "f/1.8"
    assert answer.iso.nominal == "ISO 400"
    assert broken is not None
    assert broken.name is LimitName.REACH
    assert broken.short_stops == pytest.approx(6.84, abs=0.01)
    assert broken.sentence == "the flash reaches 5.6 m and stands 60 m off"
    assert answer.exposure_error_stops == pytest.approx(-6.84, abs=0.01)


def test_a_flash_too_strong_makes_the_lens_stop_down() -> None:
    near = replace(STUDIO, flash=Flash(guide_number_m=60.0, distance_m=0.5))

    answer = suggest(near)

    # p = (N x 0.5/60)^2 >= 1/128 from f/10.6 on: f/11.
    assert answer.settings == "f/11, 1/200 s, ISO 100"
    assert answer.flash is not None
    assert answer.flash.mark == "1/128 +0.3"
    assert answer.fits
    assert answer.gave_way[0].sentence == (
        "f/11 instead of f/6.3: the flash is too strong even at its lowest power"
    )


def test_a_flash_too_strong_at_any_aperture_is_said() -> None:
    lens = Lens(focal_length_mm=85.0, widest_f_number=1.8, narrowest_f_number=8.0)
    near = replace(STUDIO, lens=lens, flash=Flash(guide_number_m=60.0, distance_m=0.25))

    answer = suggest(near)

    # p = (8 x 0.25/60)^2 = 1/900: 2.8 stops under 1/128.
    assert answer.f_number.nominal == "f/8"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.LOWEST_POWER
    assert answer.broken.sentence == "the flash goes down to 1/128 power"
    assert answer.broken.short_stops == pytest.approx(2.81, abs=0.01)
    assert answer.exposure_error_stops == pytest.approx(2.81, abs=0.01)
    assert RemedyName.FLASH_FARTHER in {remedy.name for remedy in answer.remedies}


def test_a_key_flash_leaves_the_background_two_stops_down() -> None:
    answer = suggest(DUSK)

    # The ambient a quarter of the key: under a full exposure by log2(5) = 2.32 stops,
    # so EV 7.32 asked for at f/2.5: 1/25 s.
    assert answer.settings == "f/2.5, 1/25 s, ISO 100"
    assert answer.ambient_under_stops == pytest.approx(2.33, abs=0.01)
    assert limit(answer, LimitName.BACKGROUND).margin_stops == 0.0
    assert limit(answer, LimitName.BACKGROUND).sentence == (
        "the ambient stays 2 stops under the flash"
    )
    assert not limit(answer, LimitName.BACKGROUND).must
    assert DUSK.flash is not None
    share = light_on_the_face(answer, DUSK.flash)
    assert log2(share + 2**-7 / 2**-4.667) == pytest.approx(
        answer.exposure_error_stops, abs=0.01
    )
    assert answer.ratio is not None
    assert answer.ratio.incident_key_to_fill == pytest.approx(4.0, rel=0.15)


def test_the_ambient_s_ratio_may_be_asked_for() -> None:
    assert DUSK.flash is not None
    even = replace(DUSK.flash, key_minus_fill_stops=0.0)
    over = replace(DUSK.flash, key_minus_fill_stops=-1.0)

    still = replace(DUSK, subject=Subject(distance_m=3.0, speed_m_s=0.0))
    answer = suggest(replace(still, flash=even))

    assert answer.ambient_under_stops == pytest.approx(1.0)
    assert answer.ratio is not None
    assert answer.ratio.incident_key_to_fill == pytest.approx(1.0, rel=0.15)
    assert (
        limit(suggest(replace(DUSK, flash=over)), LimitName.BACKGROUND).sentence
        == "the ambient stays 1 stop over the flash"
    )


def test_a_falling_background_is_followed_and_the_flash_holds_the_face() -> None:
    answer = suggest(replace(DUSK, light_end=replace(SURE, exposure_value=1.0)))

    assert answer.shutter_end is None
    assert answer.ambient_under_stops == pytest.approx(2.33, abs=0.01)
    assert answer.ambient_under_end_stops == pytest.approx(6.33, abs=0.01)
    assert answer.dark_end == (
        "The flash holds the subject; only the background darkens."
    )


def test_a_background_too_dark_for_hands_goes_darker() -> None:
    answer = suggest(replace(DUSK, support=Support.HANDHELD))

    # 1/25 s would be wanted; hands hold 1/85 s, so 1/100 s: two stops darker, and the
    # flash, more than three over, freezes the subject.
    assert answer.shutter.nominal == "1/100 s"
    gave = {given.name: given for given in answer.gave_way}
    assert gave[GaveName.BACKGROUND].stops == pytest.approx(2.0)
    assert gave[GaveName.BACKGROUND].sentence == (
        "the background goes 2 stops darker: 1/100 s is the slowest that serves"
    )
    assert limit(answer, LimitName.BACKGROUND).margin_stops == pytest.approx(-2.0)
    assert LimitName.HAND not in {found.name for found in answer.limits}
    assert answer.fits
    assert answer.blur_mm == 0.0
    assert answer.ambient_under_stops == pytest.approx(4.33, abs=0.01)


def test_from_three_stops_on_the_flash_freezes() -> None:
    # Common practice, no source: the ambient three stops under no longer draws.
    assert DUSK.flash is not None
    running = replace(DUSK, subject=Subject(distance_m=3.0, speed_m_s=3.5))

    under = replace(DUSK.flash, key_minus_fill_stops=3.0)  # log2(9) = 3.17 under in all
    frozen = suggest(replace(running, flash=under))
    near = suggest(replace(DUSK, flash=replace(DUSK.flash, key_minus_fill_stops=2.4)))

    assert LimitName.MOTION not in {found.name for found in frozen.limits}
    assert LimitName.MOTION in {found.name for found in near.limits}
    assert any("three stops over the ambient" in reason for reason in frozen.reasons)


def test_fill_in_the_sun_stays_at_sync_and_keeps_its_ratio() -> None:
    answer = suggest(SUN_FILL)

    # Fill one stop under: the sun makes 2/3 of the exposure, so EV 14.58 is asked for.
    # At 1/200 s and ISO 100 that is f/11.
    assert answer.settings == "f/11, 1/200 s, ISO 100"
    assert answer.ambient_under_stops == pytest.approx(log2(1.5), abs=1 / 6)
    assert answer.ratio is not None
    assert answer.ratio.key_plus_fill_to_fill == pytest.approx(3.0, abs=0.4)
    assert SUN_FILL.flash is not None
    assert light_on_the_face(answer, SUN_FILL.flash) == pytest.approx(1 / 3, rel=0.13)
    assert limit(answer, LimitName.SYNC).margin_stops == 0.0
    assert answer.gave_way[0].sentence == (
        "f/11 instead of f/2.5: 1/200 s is the fastest that the flash allows"
    )
    assert answer.fits


def test_iso_raised_for_fill_says_whether_flash_or_shutter_asked() -> None:
    dim = replace(SUN_FILL, light=replace(SURE, exposure_value=6.0))
    weak = Flash(guide_number_m=5.0, distance_m=5.0, purpose=FlashPurpose.FILL)
    evening = replace(SURE, exposure_value=7.0)

    for_hands = suggest(dim)
    for_reach = suggest(
        replace(SUN_FILL, flash=weak, light=evening, support=Support.TRIPOD)
    )

    assert for_hands.gave_way[0].sentence == (
        "ISO 400 instead of ISO 100: 1/85 s by hand, and the light may be EV 6.0"
    )
    # A third of a full exposure at f/2.5 wants 2.1 times GN 5's full power at 5 m.
    assert for_reach.gave_way[0].sentence == (
        "ISO 250 instead of ISO 100: the flash needs it to reach"
    )


def test_fill_says_when_the_bright_end_passes_sync() -> None:
    cloud = Ambient(exposure_value=14.0, low_stops=0.0, high_stops=1.0)

    answer = suggest(replace(SUN_FILL, light=cloud))

    assert answer.bright_end == (
        "At the bright end, EV 15.0, it is 1/400 s, 1 stop past flash sync: stop down."
    )


def test_a_shutter_past_sync_is_a_broken_limit() -> None:
    lens = Lens(focal_length_mm=85.0, widest_f_number=1.8, narrowest_f_number=5.6)

    answer = suggest(replace(SUN_FILL, lens=lens))

    # f/5.6 and ISO 100 for EV 14.58 is 1/800 s, two stops past 1/200 s.
    assert answer.shutter.nominal == "1/800 s"
    assert answer.broken is not None
    assert answer.broken.name is LimitName.SYNC
    assert answer.broken.short_stops == pytest.approx(2.0)
    assert answer.broken.sentence == (
        "the flash lights the whole frame at 1/200 s or slower"
    )
    remedies = {remedy.name: remedy for remedy in answer.remedies}
    assert remedies[RemedyName.HIGH_SPEED_SYNC].solves
    assert remedies[RemedyName.ND_FILTER].sentence == "An ND 0.6 filter takes 2 stops."


def test_high_speed_sync_serves_thin_focus_at_its_price() -> None:
    flash = Flash(
        guide_number_m=60.0,
        distance_m=1.5,
        purpose=FlashPurpose.FILL,
        entry_loss_stops=1.5,
    )
    request = replace(SUN_FILL, flash=flash, aim=Aim.THIN_FOCUS)

    answer = suggest(request)

    # EV 14.58 at f/1.8: 1/8000 s, 5.33 stops past 1/200 s, and 1.5 to enter.
    assert answer.settings == "f/1.8, 1/8000 s, ISO 100"
    assert answer.flash is not None
    assert answer.flash.high_speed_sync
    assert answer.flash.loss_stops == pytest.approx(1.5 + 16 / 3)
    assert LimitName.SYNC not in {found.name for found in answer.limits}
    assert (
        "High-speed sync at 1/8000 s; it costs the flash 6.8 stops." in answer.reasons
    )
    assert "past flash sync" not in answer.bright_end
    assert answer.fits


def test_high_speed_sync_is_not_used_out_of_its_reach() -> None:
    weak = Flash(
        guide_number_m=20.0,
        distance_m=3.0,
        purpose=FlashPurpose.FILL,
        entry_loss_stops=1.5,
    )

    answer = suggest(replace(SUN_FILL, flash=weak, aim=Aim.THIN_FOCUS))

    assert answer.flash is not None
    assert not answer.flash.high_speed_sync
    assert answer.broken is not None


def test_the_background_at_the_end_follows_its_own_shutter() -> None:
    # Fill keeps its ratio to a sun that loses a stop: the shutter goes along with it.
    falling = replace(SUN_FILL, light_end=replace(SURE, exposure_value=13.0))

    answer = suggest(falling)

    assert answer.shutter_end is not None
    assert answer.shutter_end.nominal == "1/100 s"
    assert answer.ambient_under_end_stops == pytest.approx(answer.ambient_under_stops)


@pytest.mark.parametrize(
    ("under_stops", "freezes"), [(3.02, True), (2.98, False), (4.0, True)]
)
def test_a_flash_freezes_from_exactly_three_stops(
    under_stops: float, freezes: bool
) -> None:
    # At f/2.5, 1/25 s and ISO 100 a full exposure is EV 7.33.
    settled = settle(read_scene(DUSK))
    darker = replace(
        settled.scene.request, light=replace(SURE, exposure_value=22 / 3 - under_stops)
    )

    held = replace(settled, scene=replace(settled.scene, request=darker))

    assert flash_freezes(held) == freezes


def test_a_flash_that_overpowers_a_background_darkens_it_rather_than_the_face() -> None:
    # Near its lowest power the flash gives too much beside the background asked for.
    near = Flash(guide_number_m=60.0, distance_m=0.36, key_minus_fill_stops=0.0)
    lens = Lens(focal_length_mm=85.0, widest_f_number=1.8, narrowest_f_number=16.0)

    answer = suggest(
        replace(DUSK, lens=lens, flash=near, light=replace(SURE, exposure_value=12.0))
    )

    assert answer.fits
    assert answer.flash is not None
    assert answer.flash.needed_power >= 1 / 128
    assert answer.ambient_under_stops is not None
    assert answer.ambient_under_stops > 1.0
    assert GaveName.BACKGROUND in {gave.name for gave in answer.gave_way}
