import re
from datetime import UTC, date, datetime, time
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from django import forms
from django.template import Context, Template
from django.utils import timezone

from studio.forms import StudioForm
from studio.icons import ICONS, MARKS
from studio.money import Money
from studio.scene.drawing import Drawing, Rect
from studio.timespan import TimeSpan
from studio.wording import minor_words, money_words

MOMENT = datetime(2027, 10, 14, 23, 30, tzinfo=UTC)
SPAN = TimeSpan(
    datetime(2027, 10, 14, 14, tzinfo=UTC), datetime(2027, 10, 14, 17, 45, tzinfo=UTC)
)


class NameForm(StudioForm):
    name = forms.CharField()


def drawn(tag: str, **context: Any) -> str:
    return Template("{% load northsill %}" + tag).render(Context(context))


@pytest.mark.parametrize("name", sorted(ICONS))
def test_every_drawing_keeps_to_its_grid_and_is_silent(name: str) -> None:
    svg = drawn("{% icon name %}", name=name)

    # Absolute ends of lines; arcs and relative moves stay near them.
    ends = re.findall(r"[MLHV]\s*(-?[\d.]+)(?:[ ,](-?[\d.]+))?", ICONS[name])
    assert all(0 <= float(part) <= 20 for end in ends for part in end if part)
    assert 'aria-hidden="true"' in svg
    assert "style=" not in svg


def test_a_drawing_that_does_not_exist_is_a_mistake() -> None:
    with pytest.raises(KeyError):
        drawn("{% icon 'unicorn' %}")


@pytest.mark.parametrize("kind", sorted(MARKS))
def test_a_mark_is_a_shape_with_a_word(kind: str) -> None:
    html = drawn("{% mark kind word %}", kind=kind.upper(), word="Fish & chips")

    assert "<svg" in html
    assert html.endswith("Fish &amp; chips</span>")


def test_states_differ_by_shape_and_not_by_colour_alone() -> None:
    # WCAG 2.2, 1.4.1 Use of Color.
    shapes = {
        kind: MARKS[kind][:2]
        for kind in ("enquiry", "quoted", "booked", "shot", "delivered", "late", "open")
    }
    shapes |= {kind: MARKS[kind][:2] for kind in ("part", "paid", "credit", "off")}

    assert len(set(shapes.values())) == len(shapes)


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("1234.50", "GBP", "£1,234.50"),
        ("-5", "GBP", "−£5.00"),
        ("0", "GBP", "£0.00"),
        ("1234", "JPY", "JP¥1,234"),
        ("1.25", "KWD", "KWD\u00a01.250"),
        ("12", "EUR", "€12.00"),
        ("12", "CHF", "CHF\u00a012.00"),
    ],
)
def test_money_reads_as_british_english_with_the_digits_of_its_currency(
    amount: str, currency: str, words: str
) -> None:
    # Signs and grouping: Unicode CLDR, en_GB; digits: ISO 4217.
    assert drawn("{{ m|money }}", m=Money(Decimal(amount), currency)) == words


def test_a_column_of_amounts_has_no_signs_and_a_dash_for_nothing() -> None:
    amounts = [Money(Decimal(figure), "GBP") for figure in ("1460", "0", "-3.5")]

    shown = [drawn("{{ m|amount }}", m=amount) for amount in amounts]

    assert shown == ["1,460.00", "–", "−3.50"]
    assert drawn("{{ m|money }}|{{ m|amount }}", m=None) == "|–"


@pytest.mark.parametrize("currency", ["GBP", "JPY", "KWD"])
@pytest.mark.parametrize("minor", [0, 5, -5, 99, 100, -123_456, 1_234_567_890])
def test_the_quick_way_to_write_a_column_agrees_with_the_long_one(
    minor: int, currency: str
) -> None:
    long = money_words(Money.from_minor(minor, currency), sign=False)

    assert minor_words(minor, currency) == long


def test_days_carry_their_weekday() -> None:
    # 14 October 2027 is a Thursday: ISO 8601 calendar, by the computer's `cal`.
    day = date(2027, 10, 14)

    assert drawn("{{ d|day_date }}", d=day) == "Thu 14 Oct 2027"
    assert drawn("{{ d|day_short }}", d=day) == "Thu 14 Oct"
    assert drawn("{{ d|day_plain }}", d=day) == "14 Oct"
    assert drawn("{{ d|day_long }}", d=day) == "Thursday 14 October 2027"


def test_an_instant_has_the_day_and_the_clock_of_its_place() -> None:
    # Half an hour before midnight UTC is past midnight in British Summer Time.
    assert drawn("{{ t|day_short:'Europe/London' }}", t=MOMENT) == "Fri 15 Oct"
    assert drawn("{{ t|clock:'Europe/London' }}", t=MOMENT) == "00:30"
    assert drawn("{{ t|clock:zone }}", t=MOMENT, zone=UTC) == "23:30"
    with timezone.override("Asia/Tokyo"):
        assert drawn("{{ t|clock }}", t=MOMENT) == "08:30"


def test_a_span_reads_as_two_clock_times() -> None:
    assert drawn("{{ s|clocks:'Europe/London' }}", s=SPAN) == "15:00–18:45"


def test_what_is_not_there_is_not_shown() -> None:
    tag = "{{ x|day_date }}{{ x|clock }}{{ x|clocks }}{{ x|money }}"

    assert drawn(tag, x=None) == ""
    assert drawn("{{ t|clock }}", t=time(9, 5)) == "09:05"


def test_a_phone_number_is_read_at_home_and_dialled_from_anywhere() -> None:
    html = drawn("{{ n|phone }} {{ n|dial }}", n="+441632960101")

    assert html == "01632 960101 +441632960101"
    assert drawn("{{ n|dial }}", n="01632 960 101 ext. 3") == "016329601013"


def test_an_address_fits_on_one_line() -> None:
    lines = "3 Tallow Lane,\n\nPriorsby  \nZZ9 4ZZ"

    assert drawn("{{ a|one_line }}", a=lines) == "3 Tallow Lane, Priorsby, ZZ9 4ZZ"


def test_a_phone_shows_the_first_words_of_a_place() -> None:
    html = drawn("{{ l|phone_label }}", l="Kit and <places>")

    assert html == 'Kit<span class="nav-rest"> and &lt;places&gt;</span>'
    assert drawn("{{ l|phone_label }}", l="Today") == "Today"


def test_a_drawing_list_becomes_an_inline_picture_with_a_name() -> None:
    drawing = Drawing(10, 5, (Rect(0, 0, 10, 5, fill="sun"),), title="Day & night")

    html = drawn("{% scene d 'strip' %}", d=drawing)

    assert html.startswith("<svg")
    assert "Day &amp; night" in html
    assert drawn("{% scene d 'strip' %}", d=None) == ""


def test_the_title_says_error_where_a_form_was_refused() -> None:
    tag = "{% error_prefix %}"

    assert drawn(tag, form=NameForm({})) == "Error: "
    assert drawn(tag, form=NameForm()) == ""
    assert drawn(tag, other=NameForm({"name": "Ada"}), x=SimpleNamespace()) == ""
