from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.exposure import (
    APERTURE_FULL,
    APERTURE_HALVES,
    APERTURE_THIRDS,
    ISO_FULL,
    ISO_HALVES,
    ISO_THIRDS,
    SHUTTER_FULL,
    SHUTTER_HALVES,
    SHUTTER_THIRDS,
    Scale,
    Stop,
)

# Names: ISO 517, ISO 516 and ISO 12232, from memory; exact values are powers of two.
SCALES = {
    "aperture, full": (APERTURE_FULL, 0, 10, 1.0, 32.0, 11),
    "aperture, halves": (APERTURE_HALVES, 0, 20, 1.0, 32.0, 21),
    "aperture, thirds": (APERTURE_THIRDS, 0, 30, 1.0, 32.0, 31),
    "shutter, full": (SHUTTER_FULL, -5, 13, 32.0, 1 / 8192, 19),
    "shutter, halves": (SHUTTER_HALVES, -10, 26, 32.0, 1 / 8192, 37),
    "shutter, thirds": (SHUTTER_THIRDS, -15, 39, 32.0, 1 / 8192, 55),
    "ISO, full": (ISO_FULL, -1, 10, 50.0, 102400.0, 12),
    "ISO, halves": (ISO_HALVES, -2, 20, 50.0, 102400.0, 23),
    "ISO, thirds": (ISO_THIRDS, -3, 30, 50.0, 102400.0, 34),
}
ALL = [row[0] for row in SCALES.values()]


@pytest.mark.parametrize("row", SCALES.values(), ids=SCALES.keys())
def test_a_scale_runs_from_end_to_end(
    row: tuple[Scale, int, int, float, float, int],
) -> None:
    scale, first, last, low, high, count = row

    assert [stop.index for stop in scale.stops] == list(range(first, last + 1))
    assert len(scale.stops) == count
    assert scale.stops[0].exact == pytest.approx(low)
    assert scale.stops[-1].exact == pytest.approx(high)


@pytest.mark.parametrize(
    ("scale", "index", "exact", "nominal"),
    [
        (APERTURE_THIRDS, 2, 2 ** (2 / 6), "f/1.2"),
        (APERTURE_HALVES, 1, 2 ** (1 / 4), "f/1.2"),
        (APERTURE_THIRDS, 22, 12.699, "f/13"),
        (APERTURE_HALVES, 15, 13.454, "f/13"),
        (APERTURE_THIRDS, 9, 2.8284, "f/2.8"),
        (APERTURE_THIRDS, 27, 22.627, "f/22"),
        (APERTURE_FULL, 7, 11.314, "f/11"),
        (SHUTTER_THIRDS, 18, 1 / 64, "1/60 s"),
        (SHUTTER_THIRDS, 21, 1 / 128, "1/125 s"),
        (SHUTTER_THIRDS, -15, 32.0, "30 s"),
        (SHUTTER_THIRDS, 3, 0.5, "0.5 s"),
        (SHUTTER_THIRDS, 6, 0.25, "1/4 s"),
        (SHUTTER_HALVES, 7, 2**-3.5, "1/10 s"),
        (ISO_THIRDS, 6, 400.0, "ISO 400"),
        (ISO_THIRDS, 1, 125.99, "ISO 125"),
        (ISO_HALVES, 1, 141.42, "ISO 140"),
    ],
)
def test_a_stop_has_its_name_and_its_true_value(
    scale: Scale, index: int, exact: float, nominal: str
) -> None:
    stop = scale.at(index)

    assert stop.index == index
    assert stop.exact == pytest.approx(exact, rel=1e-4)
    assert stop.nominal == nominal
    assert scale.nearest(exact) == stop


@pytest.mark.parametrize("scale", ALL, ids=SCALES.keys())
def test_names_drift_no_further_from_their_values_than_known(scale: Scale) -> None:
    # 0.14 stop in thirds of apertures, 0.24 in half-stop shutters: worked out for the
    # physics sheet from the standards' names.
    per_value = 2.0 if scale in {APERTURE_FULL, APERTURE_HALVES, APERTURE_THIRDS} else 1
    drift = [per_value * abs(log2(s.marked / s.exact)) for s in scale.stops]

    assert max(drift) < (0.241 if scale is SHUTTER_HALVES else 0.145)


def test_the_known_worst_names_drift_as_known() -> None:
    third = APERTURE_THIRDS.at(2)
    half = SHUTTER_HALVES.at(3)

    assert 2 * log2(third.exact / third.marked) == pytest.approx(0.14, abs=0.005)
    assert log2(half.exact / half.marked) == pytest.approx(0.24, abs=0.005)


@pytest.mark.parametrize("scale", ALL, ids=SCALES.keys())
def test_nearest_finds_each_stop_by_value_and_by_name(scale: Scale) -> None:
    for stop in scale.stops:
        assert scale.nearest(stop.exact) == stop
        assert scale.nearest(stop.marked) == stop


@given(f_number=st.floats(1.0, 32.0))
def test_nearest_works_in_stops(f_number: float) -> None:
    found = APERTURE_THIRDS.nearest(f_number)

    assert abs(2 * log2(f_number / found.exact)) <= 1 / 6 + 1e-9


def test_nearest_clamps_at_the_ends() -> None:
    assert APERTURE_THIRDS.nearest(0.5).nominal == "f/1"
    assert APERTURE_THIRDS.nearest(90.0).nominal == "f/32"
    assert SHUTTER_THIRDS.nearest(600.0).nominal == "30 s"
    assert SHUTTER_THIRDS.nearest(1e-6).nominal == "1/8000 s"
    assert ISO_THIRDS.nearest(1.0).nominal == "ISO 50"
    assert ISO_THIRDS.nearest(1e9).nominal == "ISO 102400"


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_nearest_refuses_what_is_no_setting(value: float) -> None:
    with pytest.raises(ValueError, match=str(value)):
        SHUTTER_THIRDS.nearest(value)


def test_a_range_reads_its_ends_by_name_or_by_value() -> None:
    by_name = APERTURE_THIRDS.within(lowest=1.8, highest=22)
    by_value = APERTURE_THIRDS.within(lowest=1.7818, highest=22.627)

    assert by_name == by_value
    assert by_name[0].nominal == "f/1.8"
    assert by_name[-1].nominal == "f/22"


def test_a_range_gives_no_stop_that_lies_outside_it() -> None:
    assert APERTURE_THIRDS.within(lowest=3.3, highest=4.0)[0].nominal == "f/3.5"
    assert APERTURE_THIRDS.within(lowest=40.0, highest=50.0) == ()
    assert SHUTTER_THIRDS.within(lowest=1 / 200, highest=30.0)[-1].nominal == "1/200 s"
    assert SHUTTER_THIRDS.within(lowest=1 / 180, highest=30.0)[-1].nominal == "1/160 s"


def test_the_mark_is_the_number_in_the_name() -> None:
    assert Stop(index=0, exact=5.657, nominal="f/5.6").marked == 5.6
    assert Stop(index=0, exact=0.0078, nominal="1/125 s").marked == 1 / 125
    assert Stop(index=0, exact=32.0, nominal="30 s").marked == 30.0
    assert Stop(index=0, exact=400.0, nominal="ISO 400").marked == 400.0
