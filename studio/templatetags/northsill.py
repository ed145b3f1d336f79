"""Tags and filters of our pages: drawings, marks, money, days, clocks, form errors."""

from __future__ import annotations

from datetime import date, datetime, time, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

from django import template
from django.forms import BaseForm
from django.forms.formsets import BaseFormSet
from django.template import Context
from django.utils import timezone
from django.utils.dateformat import format as formatted
from django.utils.html import format_html
from django.utils.safestring import SafeString

from studio.forms.problems import form_problems
from studio.icons import ICONS, MARKS
from studio.money import Money
from studio.scene.drawing import Drawing
from studio.scene.svg import to_svg
from studio.timespan import TimeSpan, clock_words
from studio.wording import money_words, phone_words

register = template.Library()


@register.simple_tag
def icon(name: str, extra_class: str = "") -> SafeString:
    """Return one of our drawings, silent to screen readers: a word stands beside it."""
    return format_html(
        '<svg class="icon{}" viewBox="0 0 20 20" fill="none" stroke="currentColor"'
        ' stroke-width="1.75" aria-hidden="true"><path d="{}"/></svg>',
        f" {extra_class}" if extra_class else "",
        ICONS[name],
    )


@register.simple_tag
def mark(kind: str, word: object) -> SafeString:
    """Return a state as a shape and a word; the kind names the shape."""
    line, fill, tone = MARKS[str(kind).lower()]
    filled = format_html('<path d="{}" fill="currentColor"/>', fill) if fill else ""
    return format_html(
        '<span class="mark{}"><svg viewBox="0 0 16 16" fill="none" aria-hidden="true">'
        '<path d="{}" stroke="currentColor" stroke-width="{}"/>{}</svg>{}</span>',
        f" {tone}" if tone else "",
        line,
        "2.2" if tone in {"done", "off"} else "1.6",
        filled,
        word,
    )


@register.filter
def money(value: Money | None) -> str:
    """Return an amount with its currency's sign: £1,234.50; nothing for None."""
    return "" if value is None else money_words(value)


@register.filter
def amount(value: Money | None) -> str:
    """Return an amount without the sign, for a column whose head names the currency.

    Nothing owed is a dash, so that the eye finds what is.
    """
    if value is None or value.minor == 0:
        return "\N{EN DASH}"
    return money_words(value, sign=False)


@register.filter
def day_date(value: date | datetime | None, zone: str | tzinfo | None = None) -> str:
    """Return a day as "Thu 14 Oct 2027", an instant's day in the zone given."""
    return _formatted(value, zone, "D j M Y")


@register.filter
def day_short(value: date | datetime | None, zone: str | tzinfo | None = None) -> str:
    """Return a day as "Thu 14 Oct"."""
    return _formatted(value, zone, "D j M")


@register.filter
def day_plain(value: date | datetime | None, zone: str | tzinfo | None = None) -> str:
    """Return a day as "14 Oct", for a column of days."""
    return _formatted(value, zone, "j M")


@register.filter
def day_long(value: date | datetime | None, zone: str | tzinfo | None = None) -> str:
    """Return a day as "Thursday 14 October 2027"."""
    return _formatted(value, zone, "l j F Y")


@register.filter
def clock(value: datetime | time | None, zone: str | tzinfo | None = None) -> str:
    """Return a time of day as "15:00", an instant's in the zone given.

    A time that the clocks show twice that night names its zone: "01:00 GMT".
    """
    if isinstance(value, datetime) and timezone.is_aware(value):
        return clock_words(value.astimezone(_zone(zone)))
    return _formatted(value, zone, "H:i")


@register.filter
def clocks(value: TimeSpan | None, zone: str | tzinfo | None = None) -> str:
    """Return a span's two clock times: "15:00–18:45"."""
    if value is None:
        return ""
    return f"{clock(value.start, zone)}\N{EN DASH}{clock(value.end, zone)}"


@register.filter
def phone(value: str) -> str:
    """Return a phone number as people write it: 01632 960101."""
    return phone_words(value)


@register.filter
def dial(value: str) -> str:
    """Return what stands after `tel:` in a link: digits, and a plus in front."""
    return "".join(sign for sign in value if sign in "+0123456789")


@register.filter
def one_line(value: str) -> str:
    """Return an address or other text of several lines as one, with commas."""
    return ", ".join(line.strip(" ,") for line in value.splitlines() if line.strip())


@register.filter
def phone_label(value: str) -> SafeString:
    """Return a place's name of which a phone shows what stands before " and "."""
    first, joint, rest = value.partition(" and ")
    if not joint:
        return format_html("{}", value)
    return format_html('{}<span class="nav-rest"> and {}</span>', first, rest)


@register.simple_tag
def scene(
    drawing: Drawing | None, ident: str, css_class: str = "chart", hidden: bool = False
) -> str:
    """Return a drawing as inline SVG; `ident` is unlike any other on the page."""
    if drawing is None:
        return ""
    return to_svg(drawing, ident=ident, css_class=css_class, hidden=hidden)


@register.simple_tag(takes_context=True)
def error_prefix(context: Context) -> str:
    """Return "Error: " for the title where a form of the page was refused."""
    values: list[Any] = list(context.flatten().values())
    forms = [value for value in values if isinstance(value, BaseForm | BaseFormSet)]
    return "Error: " if any(form_problems(form) for form in forms) else ""


@register.inclusion_tag("northsill/error_summary.html")
def field_error_summary(*forms: BaseForm | BaseFormSet[Any]) -> dict[str, Any]:
    """Return what is wrong with the forms, each line with the field it leads to."""
    problems = [problem for form in forms for problem in form_problems(form)]
    return {"problems": problems}


def _formatted(
    value: date | datetime | time | None, zone: str | tzinfo | None, pattern: str
) -> str:
    if value is None or value == "":
        return ""
    if isinstance(value, datetime) and timezone.is_aware(value):
        value = value.astimezone(_zone(zone))
    return formatted(value, pattern)


def _zone(zone: str | tzinfo | None) -> tzinfo:
    if isinstance(zone, str):
        return ZoneInfo(zone)
    return zone or timezone.get_current_timezone()
