from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.exposure import (
    APERTURE_THIRDS,
    ISO_THIRDS,
    SHUTTER_THIRDS,
    exposure_value,
    exposure_value_from_luminance,
    exposure_value_from_lux,
    f_number_for,
    iso_for,
    lux_from_exposure_value,
    shutter_for,
)

VALUES = st.floats(-10.0, 20.0)
F_NUMBERS = st.floats(0.9, 45.0)
SHUTTERS = st.floats(1e-5, 100.0)
ISOS = st.floats(25.0, 204800.0)


@pytest.mark.parametrize(
    ("lux", "expected"),
    [(81_920.0, 15.0), (100_000.0, 15.288), (1_000.0, 8.644), (320.0, 7.0)],
)
def test_light_on_the_subject_gives_its_exposure_value(
    lux: float, expected: float
) -> None:
    # ISO 2720:1974 with C = 250 lx s (published): EV = log2(E/2.5); worked by hand.
    assert exposure_value_from_lux(lux) == pytest.approx(expected, abs=0.0005)


def test_a_dome_reads_lower_than_a_flat_receptor() -> None:
    # C 330 in place of 250 lowers the exposure value by log2(330/250) = 0.40.
    flat = exposure_value_from_lux(1000.0)
    dome = exposure_value_from_lux(1000.0, calibration=330.0)

    assert flat is not None
    assert dome is not None
    assert flat - dome == pytest.approx(0.4005, abs=0.0005)


def test_a_bright_surface_gives_its_exposure_value() -> None:
    # ISO 2720:1974 with K = 12.5 (published): EV = log2(8 L).
    assert exposure_value_from_luminance(4096.0) == pytest.approx(15.0)
    assert exposure_value_from_luminance(3200.0) == pytest.approx(14.644, abs=0.0005)
    assert exposure_value_from_luminance(4096.0, calibration=14.0) == pytest.approx(
        15.0 - log2(14.0 / 12.5)
    )


def test_both_calibrations_meet_at_a_grey_of_sixteen_percent() -> None:
    # pi K/C = 15.7 %, not the 18 % of grey cards: by hand from both constants.
    lux = lux_from_exposure_value(12.0)
    luminance = 2.0**12 / 8.0

    assert luminance * 3.14159265 / lux == pytest.approx(0.157, abs=0.0005)


def test_the_sunny_sixteen_rule_is_a_third_stop_under_fifteen() -> None:
    # f/16 and 1/100 s at ISO 100, by value: log2(256 x 100) = 14.64.
    sunny = exposure_value(f_number=16.0, shutter_s=0.01, iso=100.0)

    assert sunny == pytest.approx(14.644, abs=0.0005)
    assert lux_from_exposure_value(sunny) == pytest.approx(64_000.0)


@pytest.mark.parametrize(
    ("f_number", "shutter", "iso", "expected"),
    [
        ("f/16", "1/125 s", "ISO 100", 15.0),  # sunlight, distinct shadows
        ("f/8", "1/250 s", "ISO 400", 12.0),  # heavy overcast, or open shade
        ("f/4", "1/30 s", "ISO 400", 7.0),  # offices
        ("f/2", "1/4 s", "ISO 400", 2.0),
    ],
)
def test_marked_settings_suit_whole_exposure_values(
    f_number: str, shutter: str, iso: str, expected: float
) -> None:
    # The exposure table of ANSI PH2.7 (published) counts in whole values; marks stand
    # for powers of two, so these come out whole.
    stops = [
        next(stop for stop in scale.stops if stop.nominal == name)
        for scale, name in (
            (APERTURE_THIRDS, f_number),
            (SHUTTER_THIRDS, shutter),
            (ISO_THIRDS, iso),
        )
    ]

    value = exposure_value(
        f_number=stops[0].exact, shutter_s=stops[1].exact, iso=stops[2].exact
    )

    assert value == pytest.approx(expected)


@given(value=VALUES, f_number=F_NUMBERS, iso=ISOS)
def test_the_shutter_completes_the_settings(
    value: float, f_number: float, iso: float
) -> None:
    shutter = shutter_for(exposure_value=value, f_number=f_number, iso=iso)

    again = exposure_value(f_number=f_number, shutter_s=shutter, iso=iso)

    assert again == pytest.approx(value, abs=1e-9)


@given(value=VALUES, shutter_s=SHUTTERS, iso=ISOS)
def test_the_f_number_completes_the_settings(
    value: float, shutter_s: float, iso: float
) -> None:
    f_number = f_number_for(exposure_value=value, shutter_s=shutter_s, iso=iso)

    again = exposure_value(f_number=f_number, shutter_s=shutter_s, iso=iso)

    assert again == pytest.approx(value, abs=1e-9)


@given(value=VALUES, f_number=F_NUMBERS, shutter_s=SHUTTERS)
def test_the_iso_completes_the_settings(
    value: float, f_number: float, shutter_s: float
) -> None:
    iso = iso_for(exposure_value=value, f_number=f_number, shutter_s=shutter_s)

    again = exposure_value(f_number=f_number, shutter_s=shutter_s, iso=iso)

    assert again == pytest.approx(value, abs=1e-9)


@given(value=VALUES, calibration=st.floats(240.0, 540.0))
def test_lux_and_exposure_value_turn_into_each_other(
    value: float, calibration: float
) -> None:
    lux = lux_from_exposure_value(value, calibration=calibration)

    assert exposure_value_from_lux(lux, calibration=calibration) == pytest.approx(value)


def test_darkness_has_no_exposure_value() -> None:
    assert exposure_value_from_lux(0.0) is None
    assert exposure_value_from_luminance(0.0) is None


@pytest.mark.parametrize("light", [-1.0, float("nan"), float("inf")])
def test_light_that_cannot_be_is_refused(light: float) -> None:
    with pytest.raises(ValueError, match=str(light)):
        exposure_value_from_lux(light)
    with pytest.raises(ValueError, match=str(light)):
        exposure_value_from_luminance(light)


@pytest.mark.parametrize("wrong", [0.0, -2.0, float("nan")])
def test_settings_that_cannot_be_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match=str(wrong)):
        exposure_value(f_number=wrong, shutter_s=0.01, iso=100.0)
    with pytest.raises(ValueError, match=str(wrong)):
        exposure_value(f_number=4.0, shutter_s=wrong, iso=100.0)
    with pytest.raises(ValueError, match=str(wrong)):
        exposure_value(f_number=4.0, shutter_s=0.01, iso=wrong)
    with pytest.raises(ValueError, match=str(wrong)):
        shutter_for(exposure_value=10.0, f_number=wrong, iso=100.0)
    with pytest.raises(ValueError, match=str(wrong)):
        f_number_for(exposure_value=10.0, shutter_s=wrong, iso=100.0)
    with pytest.raises(ValueError, match=str(wrong)):
        iso_for(exposure_value=10.0, f_number=wrong, shutter_s=0.01)
    with pytest.raises(ValueError, match=str(wrong)):
        exposure_value_from_lux(10.0, calibration=wrong)


def test_an_exposure_value_without_a_number_is_refused() -> None:
    with pytest.raises(ValueError, match="nan"):
        shutter_for(exposure_value=float("nan"), f_number=4.0, iso=100.0)
    with pytest.raises(ValueError, match="inf"):
        lux_from_exposure_value(float("inf"))
