"""A day and a time of day, joined into an instant at a place.

Where the clocks change, some times come twice and some not at all: the first are
asked about, the second refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from enum import Enum
from typing import Any, Final
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError

MISSING_HOUR: Final = "gap"
DOUBLE_HOUR: Final = "twice"


class Which(Enum):
    """Which of two equal clock times is meant when the clocks go back."""

    FIRST = "first"
    SECOND = "second"


_ANSWERS: Final = (
    (Which.FIRST.value, "The first, before the clocks go back"),
    (Which.SECOND.value, "The second, after they have gone back"),
)


class WhichField(forms.ChoiceField):
    """Asks which of two equal clock times is meant; hidden until there are two."""

    unmarked = True

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("label", "Which of the two?")
        super().__init__(
            choices=_ANSWERS, required=False, widget=forms.HiddenInput, **kwargs
        )

    def ask(self) -> None:
        """Show the question."""
        self.widget = forms.RadioSelect(choices=_ANSWERS)


def local_instant(
    day: date, clock: time, zone: ZoneInfo, *, which: Which | None = None
) -> datetime:
    """Return the instant at which the clocks of a place show a time, in UTC.

    Errors: ValidationError with the code "gap" where the clocks skip the time, and
    "twice" where they show it twice and `which` does not say which is meant.
    """
    naive = datetime.combine(day, clock.replace(tzinfo=None, fold=0))
    first = naive.replace(tzinfo=zone)
    second = first.replace(fold=1)
    if first.utcoffset() == second.utcoffset():
        return first.astimezone(UTC)
    if first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != naive:
        raise ValidationError(_gap_words(first), code=MISSING_HOUR)
    if which is None:
        raise ValidationError(_twice_words(first, second), code=DOUBLE_HOUR)
    return (first if which is Which.FIRST else second).astimezone(UTC)


@dataclass(frozen=True, slots=True)
class LocalDateTime:
    """The three fields of a form that together are one instant at a place."""

    day: str = "day"
    clock: str = "clock"
    which: str = "which"

    def join(self, form: forms.Form, zone: ZoneInfo) -> datetime | None:
        """Return the instant that the form gives, or None and its refusal on the form.

        Call it from the form's `clean`. The question which of two equal times is meant
        shows itself when it is needed.
        """
        day = form.cleaned_data.get(self.day)
        clock = form.cleaned_data.get(self.clock)
        if day is None or clock is None:
            return None
        answer = form.cleaned_data.get(self.which)
        try:
            which = Which(answer) if answer else None
            instant = local_instant(day, clock, zone, which=which)
        except ValidationError as refusal:
            self._refuse(form, refusal)
            return None
        if answer:
            self._keep_asking(form, day, clock, zone)
        return instant

    def _refuse(self, form: forms.Form, refusal: ValidationError) -> None:
        asked = form.fields.get(self.which)
        if refusal.code == DOUBLE_HOUR and isinstance(asked, WhichField):
            asked.ask()
            form.add_error(self.which, refusal)
        else:
            form.add_error(self.clock, refusal)

    def _keep_asking(
        self, form: forms.Form, day: date, clock: time, zone: ZoneInfo
    ) -> None:
        # The page may come back for another field's sake; the answer stays in sight.
        asked = form.fields[self.which]
        try:
            local_instant(day, clock, zone)
        except ValidationError:
            if isinstance(asked, WhichField):
                asked.ask()


def _gap_words(first: datetime) -> str:
    before = first.replace(fold=0).utcoffset() or timedelta()
    after = first.replace(fold=1).utcoffset() or timedelta()
    skipped = after - before
    zone = first.tzinfo
    # Read with the old offset the time lies past the change, with the new before it.
    naive = first.replace(tzinfo=None)
    change = _change_between(naive - after, naive - before, zone)
    to_clock = change.astimezone(zone)
    from_clock = (to_clock.replace(tzinfo=None) - skipped).time()
    return (
        f"{first:%H:%M} does not exist on {first.day} {first:%B %Y}: the clocks of this"
        f" place go forward from {from_clock:%H:%M} to {to_clock:%H:%M}."
    )


def _twice_words(first: datetime, second: datetime) -> str:
    return (
        f"{first:%H:%M} comes twice on {first.day} {first:%B %Y}, because the clocks of"
        f" this place go back: first as {first:%Z}, then as {second:%Z}. Say which."
    )


def _change_between(earliest: datetime, latest: datetime, zone: Any) -> datetime:
    low, high = sorted((earliest.replace(tzinfo=UTC), latest.replace(tzinfo=UTC)))
    old = low.astimezone(zone).utcoffset()
    while high - low > timedelta(minutes=1):
        middle = low + (high - low) / 2
        middle = middle.replace(second=0, microsecond=0)
        if middle <= low:
            break
        if middle.astimezone(zone).utcoffset() == old:
            low = middle
        else:
            high = middle
    return high
