from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest
from django import forms
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from studio.forms import (
    DateField,
    LocalDateTime,
    StudioForm,
    TimeField,
    WhichField,
    local_instant,
)
from studio.forms.instants import Which

LONDON = ZoneInfo("Europe/London")
# The clocks change at 01:00 UTC on the last Sunday of March and of October: the
# Summer Time Order 2002 (UK), directive 2000/84/EC.
SPRING = date(2027, 3, 28)
AUTUMN = date(2027, 10, 31)


class WhenForm(StudioForm):
    day = DateField()
    clock = TimeField()
    which = WhichField()

    def clean(self) -> None:
        super().clean()
        self.instant = LocalDateTime().join(self, LONDON)


def test_a_clock_time_in_summer_is_an_hour_ahead_of_utc() -> None:
    assert local_instant(date(2027, 6, 21), time(15), LONDON) == datetime(
        2027, 6, 21, 14, tzinfo=UTC
    )


def test_an_hour_that_the_clocks_skip_is_refused_with_the_reason() -> None:
    with pytest.raises(ValidationError, match="forward from 01:00 to 02:00") as refusal:
        local_instant(SPRING, time(1, 30), LONDON)

    assert refusal.value.code == "gap"


def test_an_hour_that_comes_twice_is_asked_about() -> None:
    with pytest.raises(ValidationError, match="first as BST, then as GMT") as refusal:
        local_instant(AUTUMN, time(1, 30), LONDON)

    assert refusal.value.code == "twice"


def test_the_answer_says_which_of_the_two_is_meant() -> None:
    first = local_instant(AUTUMN, time(1, 30), LONDON, which=Which.FIRST)
    second = local_instant(AUTUMN, time(1, 30), LONDON, which=Which.SECOND)

    assert first == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)
    assert second == datetime(2027, 10, 31, 1, 30, tzinfo=UTC)


@pytest.mark.parametrize("clock", [time(0, 59), time(2, 0)])
def test_the_edges_of_a_change_are_plain_times(clock: time) -> None:
    local_instant(SPRING, clock, LONDON)
    local_instant(AUTUMN, clock, LONDON)


def test_a_change_of_half_an_hour_is_a_change_too() -> None:
    # Lord Howe Island moves by 30 minutes at 02:00: IANA time zone database.
    zone = ZoneInfo("Australia/Lord_Howe")

    with pytest.raises(ValidationError, match="from 02:00 to 02:30"):
        local_instant(date(2027, 10, 3), time(2, 15), zone)
    with pytest.raises(ValidationError, match="comes twice"):
        local_instant(date(2027, 4, 4), time(1, 45), zone)


@given(
    st.integers(min_value=946_684_800, max_value=2_145_916_800),
    st.sampled_from(["Europe/London", "America/St_Johns", "Australia/Lord_Howe"]),
)
def test_every_instant_is_found_again_from_what_the_clocks_show(
    unix_s: int, name: str
) -> None:
    zone = ZoneInfo(name)
    moment = datetime.fromtimestamp(unix_s, UTC)
    shown = moment.astimezone(zone)
    which = Which.SECOND if shown.fold else Which.FIRST

    found = local_instant(shown.date(), shown.time(), zone, which=which)

    assert found == moment


def test_a_form_gives_an_instant_and_asks_nothing_on_a_plain_day() -> None:
    form = WhenForm({"day": "2027-10-14", "clock": "15:00"})

    assert form.is_valid()
    assert form.instant == datetime(2027, 10, 14, 14, tzinfo=UTC)
    assert form["which"].is_hidden


def test_a_form_asks_which_hour_is_meant_and_takes_the_answer() -> None:
    unanswered = WhenForm({"day": "2027-10-31", "clock": "01:30"})
    answered = WhenForm({"day": "2027-10-31", "clock": "01:30", "which": "second"})

    assert "which" in unanswered.errors
    assert not unanswered["which"].is_hidden
    assert answered.is_valid()
    assert answered.instant == datetime(2027, 10, 31, 1, 30, tzinfo=UTC)
    assert not answered["which"].is_hidden


def test_a_form_refuses_an_hour_that_does_not_exist_at_its_time() -> None:
    form = WhenForm({"day": "2027-03-28", "clock": "01:30"})

    assert "does not exist" in form.errors["clock"][0]


def test_a_form_without_the_question_refuses_at_the_time() -> None:
    class ShortForm(forms.Form):
        day = DateField()
        clock = TimeField()

    form = ShortForm({"day": "2027-10-31", "clock": "01:30"})
    form.is_valid()

    assert LocalDateTime().join(form, LONDON) is None
    assert "comes twice" in form.errors["clock"][0]


def test_nothing_is_joined_while_a_part_is_missing() -> None:
    form = WhenForm({"day": "2027-10-14"})

    assert not form.is_valid()
    assert form.instant is None
