from datetime import date, time

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from studio.forms import DateField, StudioForm, TimeField
from studio.forms.days import Lean, read_clock, read_day

TODAY = date(2027, 9, 24)


class WhenForm(StudioForm):
    day = DateField(today=lambda: TODAY)
    starts = TimeField()


@pytest.mark.parametrize(
    "text",
    [
        "2027-10-14",
        "14/10/2027",
        "14.10.27",
        "14-10-2027",
        "14/10",
        "14 oct",
        "14 October 2027",
        "14th oct",
        "Thu 14 Oct 2027",
        "thursday, 14 oct",
        "14 Oct, 2027",
    ],
)
def test_a_day_is_understood_as_people_write_it(text: str) -> None:
    # Day before month, as British English writes it: common practice, no source.
    assert read_day(text, today=TODAY) == date(2027, 10, 14)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("today", TODAY),
        ("Tomorrow", date(2027, 9, 25)),
        ("yesterday", date(2027, 9, 23)),
        ("24/9", TODAY),
        ("23/9", date(2028, 9, 23)),
        ("29 feb", date(2028, 2, 29)),
        ("3 sept", date(2028, 9, 3)),
    ],
)
def test_a_day_without_a_year_is_the_next_one(text: str, day: date) -> None:
    assert read_day(text, today=TODAY) == day


def test_a_day_without_a_year_can_be_the_last_one() -> None:
    assert read_day("23/9", today=TODAY, lean=Lean.BACK) == date(2027, 9, 23)
    assert read_day("25/9", today=TODAY, lean=Lean.BACK) == date(2026, 9, 25)


@pytest.mark.parametrize(
    "text", ["31/2", "30 feb", "0/1", "14/13", "soon", "14", "14/10/027", "", "14 foo"]
)
def test_what_is_no_day_is_not_guessed_at(text: str) -> None:
    assert read_day(text, today=TODAY) is None


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2199, 12, 31)))
def test_every_day_is_read_back_from_its_written_forms(day: date) -> None:
    assert read_day(day.isoformat(), today=TODAY) == day
    assert read_day(f"{day.day}/{day.month}/{day.year}", today=TODAY) == day
    assert read_day(f"{day.day} {day:%B} {day.year}", today=TODAY) == day


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("15:00", time(15)),
        ("15.30", time(15, 30)),
        ("15h30", time(15, 30)),
        ("1530", time(15, 30)),
        ("0915", time(9, 15)),
        ("915", time(9, 15)),
        ("3pm", time(15)),
        ("3.30 pm", time(15, 30)),
        ("3 p.m.", time(15)),
        ("12am", time(0)),
        ("12 pm", time(12)),
        ("15", time(15)),
        ("15:00:00", time(15)),
        ("noon", time(12)),
        ("midnight", time(0)),
        ("9:05", time(9, 5)),
    ],
)
def test_a_time_is_understood_as_people_write_it(text: str, clock: time) -> None:
    # 12 am is midnight, 12 pm noon: NIST, Times of Day FAQ (from memory).
    assert read_clock(text) == clock


@pytest.mark.parametrize("text", ["3", "12", "25:00", "15:60", "13pm", "0am", "late"])
def test_what_is_no_time_is_not_guessed_at(text: str) -> None:
    assert read_clock(text) is None


@given(st.times())
def test_every_minute_is_read_back_from_its_written_forms(clock: time) -> None:
    minute = clock.replace(second=0, microsecond=0, fold=0)

    assert read_clock(f"{minute:%H:%M}") == minute
    assert read_clock(f"{minute:%I:%M} {minute:%p}") == minute


def test_a_bare_hour_is_asked_about() -> None:
    with pytest.raises(ValidationError, match="write 3am or 3pm"):
        TimeField().clean("3")


def test_a_native_box_shows_again_what_was_typed_in_words() -> None:
    form = WhenForm({"day": "14 oct", "starts": "3pm"})

    assert form.is_valid()
    assert 'value="2027-10-14"' in str(form["day"])
    assert 'value="15:00"' in str(form["starts"])


def test_a_day_that_does_not_exist_is_refused_and_shown_again() -> None:
    form = WhenForm({"day": "31/2/2027", "starts": "nine"})

    assert "day that exists" in form.errors["day"][0]
    assert form["day"].value() == "31/2/2027"
    assert "starts" in form.errors


def test_the_boxes_are_native_ones() -> None:
    form = WhenForm()

    assert 'type="date"' in str(form["day"])
    assert 'type="time"' in str(form["starts"])
    assert 'step="300"' in str(form["starts"])
