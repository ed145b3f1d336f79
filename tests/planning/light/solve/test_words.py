from math import inf

import pytest

from planning.light.exposure import SHUTTER_THIRDS
from planning.light.solve.words import (
    change_text,
    group_text,
    metres_text,
    seconds_text,
    span_text,
    stops_text,
    value_text,
)


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (1 / 57.2, "1/58 s"),
        (1 / 125, "1/125 s"),
        (0.25, "1/4 s"),
        (0.32, "0.3 s"),
        (2.0, "2 s"),
        (2.54, "2.5 s"),
        (9.94, "9.9 s"),
        (10.4, "10 s"),
        (0.299, "1/4 s"),
        (12.4, "12 s"),
    ],
)
def test_a_time_is_read_as_on_a_dial(seconds: float, text: str) -> None:
    assert seconds_text(seconds) == text


@pytest.mark.parametrize(
    ("metres", "text"),
    [
        (0.09, "9 cm"),
        (0.994, "99 cm"),
        (0.996, "1.0 m"),
        (4.54, "4.5 m"),
        (19.9, "19.9 m"),
        (20.4, "20 m"),
        (40.2, "40 m"),
        (inf, "infinity"),
    ],
)
def test_a_length_is_read_in_fitting_units(metres: float, text: str) -> None:
    assert metres_text(metres) == text


@pytest.mark.parametrize(
    ("near", "far", "text"),
    [
        (4.52, 5.71, "4.5–5.7 m"),
        (2.457, 2.544, "2.46–2.54 m"),
        (2.0, 2.299, "2.00–2.30 m"),
        (2.0, 2.301, "2.0–2.3 m"),
        (5.13, inf, "5.1 m to infinity"),
    ],
)
def test_a_zone_is_read_as_a_range(near: float, far: float, text: str) -> None:
    assert span_text(near, far) == text


@pytest.mark.parametrize(
    ("stops", "text"),
    [
        (1 / 3, "0.3 stop"),
        (1.0, "1 stop"),
        (1.04, "1 stop"),
        (1.06, "1.1 stops"),
        (5 / 3, "1.7 stops"),
        (2.0, "2 stops"),
    ],
)
def test_stops_are_counted_in_tenths(stops: float, text: str) -> None:
    assert stops_text(stops) == text


def test_an_exposure_value_has_a_proper_sign() -> None:
    assert value_text(10.93) == "EV 10.9"
    assert value_text(-1.26) == "EV −1.3"
    assert value_text(-0.01) == "EV 0.0"


def test_a_setting_that_moves_is_read_with_an_arrow() -> None:
    first, last = SHUTTER_THIRDS.nearest(1 / 250), SHUTTER_THIRDS.nearest(1 / 160)

    assert change_text(first, last) == "1/250 s → 1/160 s"
    assert change_text(first, first) == "1/250 s"


@pytest.mark.parametrize(
    ("people", "text"),
    [
        (1, "the sitter"),
        (2, "both"),
        (3, "all three"),
        (10, "all ten"),
        (11, "all 11"),
    ],
)
def test_people_are_counted_in_words(people: int, text: str) -> None:
    assert group_text(people) == text
