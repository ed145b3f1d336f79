"""Days and times of day: native boxes, and what people type where there are none."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, time, timedelta
from enum import Enum
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from studio.forms.echoes import EchoMixin

MONTHS: Final = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_NAMED_DAYS: Final = {"yesterday": -1, "today": 0, "tomorrow": 1}
_ISO: Final = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_NUMBERS: Final = re.compile(
    r"(\d{1,2})\s*[/. -]\s*(\d{1,2})(?:\s*[/. -]\s*(\d{4}|\d{2}))?"
)
_WORDS: Final = re.compile(
    r"(?:[a-z]{3,9},?\s+)?(\d{1,2})(?:st|nd|rd|th)?\s+([a-z]{3,9})\.?,?(?:\s+(\d{4}|\d{2}))?"
)
_CLOCK: Final = re.compile(
    r"(\d{1,2})(?:\s*[:.h]\s*(\d{2})(?:[:.]\d{2}(?:\.\d+)?)?)?\s*(am|pm)?"
)
_BARE_CLOCK: Final = re.compile(r"(\d{1,2})(\d{2})\s*(am|pm)?")
_NAMED_CLOCKS: Final = {"noon": time(12), "midday": time(12), "midnight": time(0)}


class Lean(Enum):
    """Which year a day without one is taken for."""

    AHEAD = "the next such day, today included"
    BACK = "the last such day, today included"


def read_day(text: str, *, today: date, lean: Lean = Lean.AHEAD) -> date | None:
    """Return the day that a text means: 2027-10-14, 14/10, 14 oct; None if none.

    Day stands before month. Two digits of a year are of this century.
    """
    text = " ".join(text.lower().split())
    if text in _NAMED_DAYS:
        return today + timedelta(days=_NAMED_DAYS[text])
    if found := _ISO.fullmatch(text):
        year, month, day = (int(part) for part in found.groups())
        return _day(year, month, day)
    if found := _NUMBERS.fullmatch(text):
        day, month = int(found[1]), int(found[2])
    elif found := _WORDS.fullmatch(text):
        day, month = int(found[1]), _month(found[2])
    else:
        return None
    if found[3]:
        return _day(_year(found[3]), month, day)
    return _nearest(month, day, today, lean)


def read_clock(text: str) -> time | None:
    """Return the time of day that a text means: 15:00, 15.30, 3pm, 1530; None if none.

    A bare hour up to twelve could be either half of the day, so it means nothing.
    """
    text = " ".join(text.lower().replace("a.m.", "am").replace("p.m.", "pm").split())
    if text in _NAMED_CLOCKS:
        return _NAMED_CLOCKS[text]
    found = _CLOCK.fullmatch(text) or _BARE_CLOCK.fullmatch(text)
    if found is None:
        return None
    hour, minute, half = int(found[1]), int(found[2] or 0), found[3]
    if half is None and found[2] is None and hour <= 12:
        return None
    return _clock(hour, minute, half)


class DateField(EchoMixin, forms.DateField):
    """A day, in a native box; text is understood where the browser has none."""

    default_error_messages = {
        "invalid": "Write a day that exists, such as 14/10/2027 or 14 Oct."
    }

    def __init__(
        self,
        *,
        lean: Lean = Lean.AHEAD,
        today: Callable[[], date] = timezone.localdate,
        **kwargs: Any,
    ) -> None:
        kwargs.setdefault(
            "widget", forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        )
        super().__init__(**kwargs)
        self.lean = lean
        self.today = today

    def to_python(self, value: Any) -> date | None:
        """Return the day, or None where nothing was written."""
        if value in self.empty_values:
            return None
        if not isinstance(value, str):
            return super().to_python(value)
        day = read_day(value, today=self.today(), lean=self.lean)
        if day is None or not 1900 <= day.year <= 2199:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return day

    def bound_data(self, data: Any, initial: Any) -> Any:
        """Return what is shown again: a native box takes nothing but the ISO form."""
        if not isinstance(data, str):
            return data
        return read_day(data, today=self.today(), lean=self.lean) or data


class TimeField(EchoMixin, forms.TimeField):
    """A time of day, in a native box of five-minute steps; any minute is taken."""

    default_error_messages = {
        "invalid": "Write a time such as 15:00, 15.30 or 3pm.",
        "half": (
            "%(hour)s could be morning or afternoon: write %(hour)sam or %(hour)spm."
        ),
    }

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"type": "time", "step": "300"}
        kwargs.setdefault("widget", forms.TimeInput(attrs=attrs, format="%H:%M"))
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> time | None:
        """Return the time of day, or None where nothing was written."""
        if value in self.empty_values:
            return None
        if not isinstance(value, str):
            return super().to_python(value)
        clock = read_clock(value)
        if clock is not None:
            return clock
        bare = value.strip()
        if bare.isascii() and bare.isdigit() and 1 <= int(bare) <= 12:
            raise ValidationError(
                self.error_messages["half"], code="half", params={"hour": int(bare)}
            )
        raise ValidationError(self.error_messages["invalid"], code="invalid")

    def bound_data(self, data: Any, initial: Any) -> Any:
        """Return what is shown again: a native box takes nothing but 15:00."""
        if not isinstance(data, str):
            return data
        return read_clock(data) or data


def _month(word: str) -> int:
    for number, name in enumerate(MONTHS, start=1):
        if name.startswith(word) or (word == "sept" and number == 9):
            return number
    return 0


def _year(digits: str) -> int:
    return 2000 + int(digits) if len(digits) == 2 else int(digits)


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _nearest(month: int, day: int, today: date, lean: Lean) -> date | None:
    # Eight years reach the next 29 February wherever one starts.
    step = 1 if lean is Lean.AHEAD else -1
    for offset in range(9):
        found = _day(today.year + step * offset, month, day)
        if found is not None and (found - today).days * step >= 0:
            return found
    return None


def _clock(hour: int, minute: int, half: str | None) -> time | None:
    if half is not None:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "pm" else 0)
    try:
        return time(hour, minute)
    except ValueError:
        return None
