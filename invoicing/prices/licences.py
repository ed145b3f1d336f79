"""Usage licences in words: who may use pictures, where, and for how long."""

from __future__ import annotations

from datetime import date
from typing import Final

_NUMBERS: Final = (
    *("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"),
    *("ten", "eleven", "twelve"),
)


def licence_words(*, who: str, where: str, months: int | None) -> str:
    """Return a licence as a quote prints it; what is empty is left out."""
    length = f"{length_words(months)} from delivery" if months else "without an end"
    said = [part.strip() for part in (who, where) if part.strip()]
    return ", ".join([*said, length])


def length_words(months: int) -> str:
    """Return so many months in words: two years, eighteen months as 18 months."""
    years, rest = divmod(months, 12)
    if rest or not years:
        return f"{_number(months)} {'month' if months == 1 else 'months'}"
    return f"{_number(years)} {'year' if years == 1 else 'years'}"


def runs_out_on(delivered_on: date, months: int) -> date:
    """Return the last day of a licence that runs from a delivery.

    The same day of the month so much later, less a day; a day that the month lacks is
    its last.
    """
    place = delivered_on.year * 12 + delivered_on.month - 1 + months
    year, month = divmod(place, 12)
    for day in range(delivered_on.day, 27, -1):
        try:
            same = date(year, month + 1, day)
        except ValueError:
            continue
        return _day_before(same) if day == delivered_on.day else same
    return _day_before(date(year, month + 1, delivered_on.day))


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def _day_before(day: date) -> date:
    return date.fromordinal(day.toordinal() - 1)
