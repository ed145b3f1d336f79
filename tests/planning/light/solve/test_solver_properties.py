"""What holds for every request, whatever it asks."""

from dataclasses import replace
from math import inf, isfinite, log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.light.exposure import exposure_value
from planning.light.motion import freezing_shutter_s, handheld_shutter_s
from planning.light.optics import crop_factor
from planning.light.solve import (
    Aim,
    FlashPurpose,
    LimitName,
    SetUpRequest,
    Suggestion,
    Support,
    suggest,
)
from tests.planning.light.solve.cases import (
    ambient_requests,
    any_requests,
    limit,
    shifted,
)

A_SIXTH = 1.0 / 6.0 + 1e-6
TINY = 1e-6
MANY = settings(max_examples=100, deadline=None)
SOME = settings(max_examples=40, deadline=None)


def shortfall(suggestion: Suggestion) -> float:
    return sum(found.short_stops for found in suggestion.limits if found.must)


@MANY
@given(request=any_requests(), brighter=st.floats(0.0, 12.0))
def test_more_light_never_asks_for_a_higher_iso(
    request: SetUpRequest, brighter: float
) -> None:
    dim = suggest(request)
    bright = suggest(shifted(request, brighter))

    assert bright.iso.exact <= dim.iso.exact


@MANY
@given(request=ambient_requests(), brighter=st.floats(0.0, 12.0))
def test_more_light_at_one_end_never_asks_for_a_higher_iso(
    request: SetUpRequest, brighter: float
) -> None:
    assert request.light is not None
    lifted = replace(
        request.light, exposure_value=request.light.exposure_value + brighter
    )
    end = request.light_end or request.light

    dim = suggest(replace(request, light_end=end))
    bright = suggest(replace(request, light=lifted, light_end=end))

    assert bright.iso.exact <= dim.iso.exact


@MANY
@given(request=any_requests())
def test_a_tripod_never_makes_a_suggestion_worse(request: SetUpRequest) -> None:
    by_hand = suggest(replace(request, support=Support.HANDHELD))
    on_tripod = suggest(replace(request, support=Support.TRIPOD))

    assert on_tripod.fits or not by_hand.fits
    assert on_tripod.iso.exact <= by_hand.iso.exact
    assert shortfall(on_tripod) <= shortfall(by_hand) + TINY


@SOME
@given(request=any_requests())
def test_the_same_request_gives_the_same_answer(request: SetUpRequest) -> None:
    assert suggest(request) == suggest(replace(request))


@MANY
@given(request=any_requests())
def test_settings_that_fit_expose_for_the_light(request: SetUpRequest) -> None:
    answer = suggest(request)

    if answer.fits:
        assert abs(answer.exposure_error_stops) <= A_SIXTH
    if answer.fits and request.flash is None and request.light is not None:
        stands_on = exposure_value(
            f_number=answer.f_number.exact,
            shutter_s=answer.shutter.exact,
            iso=answer.iso.exact,
        )
        assert abs(stands_on - request.light.exposure_value) <= A_SIXTH


@MANY
@given(request=any_requests())
def test_settings_that_miss_the_light_say_which_limit_is_why(
    request: SetUpRequest,
) -> None:
    answer = suggest(request)

    if abs(answer.exposure_error_stops) > A_SIXTH:
        assert answer.broken is not None
        assert not answer.fits


@MANY
@given(request=ambient_requests())
def test_met_limits_are_met_when_worked_out_again(request: SetUpRequest) -> None:
    answer = suggest(request)
    subject, lens, body = request.subject, request.lens, request.body
    found = {one.name: one for one in answer.limits}
    crop = crop_factor(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )

    if LimitName.DEPTH in found and found[LimitName.DEPTH].met:
        assert answer.zone.near_m <= subject.near_m * (1 + TINY)
        assert answer.zone.far_m >= subject.far_m * (1 - TINY)
    if LimitName.MOTION in found and found[LimitName.MOTION].met:
        frozen = freezing_shutter_s(
            speed_m_s=subject.speed_m_s,
            angle_deg=subject.angle_deg,
            distance_m=subject.distance_m,
            focal_length_mm=lens.focal_length_mm,
            blur_mm=0.06 / crop,
        )
        assert frozen is not None
        slow = max(answer.shutter, answer.shutter_dark, key=lambda stop: stop.exact)
        assert slow.exact <= frozen * (1 + TINY)
        assert answer.blur_mm <= 0.06 / crop * (1 + TINY)
    if LimitName.HAND in found and found[LimitName.HAND].met:
        trusted = max(lens.stabilisation_stops - 1.0, 0.0)
        steady = handheld_shutter_s(
            lens.focal_length_mm, crop_factor=crop, stabilisation_stops=trusted
        )
        assert answer.shutter_dark.exact <= min(steady, 0.125) * (1 + TINY)
    assert answer.iso.marked <= body.highest_iso or answer.iso.exact <= body.highest_iso
    assert answer.f_number.marked <= lens.narrowest_f_number


@MANY
@given(request=any_requests())
def test_an_answer_does_not_contradict_itself(request: SetUpRequest) -> None:
    answer = suggest(request)
    musts = [found for found in answer.limits if found.must]

    assert answer.fits == all(found.met for found in musts)
    assert (answer.broken is None) == answer.fits
    if answer.broken is not None:
        worst = min(found.margin_stops for found in musts)
        assert answer.broken.margin_stops == worst
        assert answer.broken.short_stops == -worst
    if answer.fits:
        assert not answer.remedies
        assert not answer.together
    ranks = [remedy.stops for remedy in answer.remedies]
    assert ranks == sorted(ranks, reverse=True)
    assert all(isfinite(rank) and rank > 0.0 for rank in ranks)
    assert not (answer.together and any(one.solves for one in answer.remedies))
    assert all(together in answer.remedies for together in answer.together)
    assert len({found.name for found in answer.limits}) == len(answer.limits)
    assert all(gave.stops > 0.0 for gave in answer.gave_way)
    broken = [gave for gave in answer.gave_way if gave.name == "a limit"]
    assert len(broken) == sum(not found.met for found in musts)


@MANY
@given(request=any_requests())
def test_every_sentence_reads_as_one(request: SetUpRequest) -> None:
    answer = suggest(request)
    sentences = [
        *answer.reasons,
        *(remedy.sentence for remedy in answer.remedies),
        answer.dark_end,
        answer.bright_end,
    ]

    for sentence in sentences:
        assert sentence.endswith(".")
        assert sentence[0].isupper() or sentence[0].isdigit() or sentence[0] == "f"
    demands = [found.sentence for found in answer.limits]
    given_up = [gave.sentence for gave in answer.gave_way]
    for text in (*sentences, *demands, *given_up):
        assert "nan" not in text
        assert " inf " not in text
        assert "None" not in text
        assert "EV -" not in text
        assert " -" not in text


@MANY
@given(request=any_requests())
def test_settings_are_what_lens_and_body_have(request: SetUpRequest) -> None:
    answer = suggest(request)
    lens, body = request.lens, request.body

    widest = max(answer.f_number.exact, answer.f_number.marked)
    assert widest >= lens.widest_f_number
    assert min(answer.iso.exact, answer.iso.marked) <= body.highest_iso
    assert max(answer.iso.exact, answer.iso.marked) >= body.base_iso
    for shutter in (answer.shutter, answer.shutter_dark, answer.shutter_bright):
        assert max(shutter.exact, shutter.marked) >= body.fastest_shutter_s
        assert min(shutter.exact, shutter.marked) <= body.slowest_shutter_s
    assert answer.shutter_bright.exact <= answer.shutter.exact
    assert answer.shutter.exact <= answer.shutter_dark.exact


@MANY
@given(request=any_requests())
def test_a_flash_is_set_within_its_power_and_its_sync(request: SetUpRequest) -> None:
    answer = suggest(request)

    assert (answer.flash is None) == (request.flash is None)
    if answer.flash is None or request.flash is None:
        return
    assert request.flash.lowest_power <= answer.flash.power <= request.flash.power
    if limit(answer, LimitName.REACH).met:
        assert answer.flash.needed_power <= request.flash.power * (1 + TINY)
        assert answer.flash.reach_m >= request.flash.distance_m * (1 - TINY)
    if answer.fits and not answer.flash.high_speed_sync:
        assert max(answer.shutter.exact, answer.shutter.marked) >= request.body.sync_s
    if answer.flash.high_speed_sync:
        assert request.flash.high_speed_entry_stops is not None
        assert answer.shutter.exact < request.body.sync_s
        assert answer.shutter_end is None or (
            answer.shutter_end.exact < request.body.sync_s
        )


@SOME
@given(request=ambient_requests())
def test_a_narrower_range_of_light_never_breaks_a_limit(request: SetUpRequest) -> None:
    assert request.light is not None
    sure = replace(request.light, low_stops=0.0, high_stops=0.0)

    wide = suggest(replace(request, light_end=None))
    narrow = suggest(replace(request, light=sure, light_end=None))

    assert narrow.fits or not wide.fits
    assert narrow.iso.exact <= wide.iso.exact


@SOME
@given(request=ambient_requests(), stops=st.integers(1, 4))
def test_a_filter_asks_for_the_light_that_it_takes(
    request: SetUpRequest, stops: int
) -> None:
    without = suggest(replace(request, light_end=None))
    behind = suggest(replace(shifted(request, -float(stops)), light_end=None))

    def value(answer: Suggestion) -> float:
        return exposure_value(
            f_number=answer.f_number.exact,
            shutter_s=answer.shutter.exact,
            iso=answer.iso.exact,
        )

    if without.fits and behind.fits:
        assert value(without) - value(behind) == pytest.approx(stops, abs=1.0 / 3.0)


@SOME
@given(request=any_requests())
def test_a_broken_aim_is_broken_by_a_number_unless_nothing_could_meet_it(
    request: SetUpRequest,
) -> None:
    for found in suggest(request).limits:
        if found.margin_stops == -inf:
            assert found.name is LimitName.STREAK
            assert request.aim is Aim.BLUR
        else:
            assert isfinite(found.margin_stops)


@SOME
@given(request=any_requests())
def test_the_ratio_names_both_conventions_alike(request: SetUpRequest) -> None:
    ratio = suggest(request).ratio

    if ratio is not None:
        assert ratio.key_plus_fill_to_fill == pytest.approx(
            ratio.incident_key_to_fill + 1.0
        )
        assert ratio.lit_minus_shadow_stops == pytest.approx(
            log2(ratio.key_plus_fill_to_fill)
        )
    if request.flash and request.flash.purpose is FlashPurpose.KEY:
        assert request.light is not None or ratio is None or request.second_flash
