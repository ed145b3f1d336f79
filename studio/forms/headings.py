"""Which way something looks: degrees or a compass point, true or by the needle."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import isfinite
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError

POINTS: Final = (
    *("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE"),
    *("S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"),
)
_WORDS: Final = {"NORTH": "N", "EAST": "E", "SOUTH": "S", "WEST": "W"}
_TYPED: Final = re.compile(
    r"(?P<what>[A-Z][A-Z \-]*?|\d{1,3}(?:[.,]\d+)?)\s*(?:°|DEG(?:REES)?)?\s*"
    r"(?:(?<=[\d° ])(?P<north>M|MAG|MAGNETIC|T|TRUE))?\.?"
)
_HINT: Final = "Write degrees from 0 to 360 or a compass point: 225, WSW, 225 magnetic."


@dataclass(frozen=True, slots=True)
class Heading:
    """A direction, clockwise from true north or from where a needle points."""

    degrees: float
    is_magnetic: bool = False

    def true_deg(self, declination_deg: float | None) -> float:
        """Return it from true north; ValidationError if that cannot be worked out.

        `declination_deg` is how far the needle points east of true north.
        """
        if not self.is_magnetic:
            return self.degrees
        if declination_deg is None:
            raise ValidationError(
                "The compass variation of this place is not known. Write it on the "
                "place’s skyline page, or give this direction from true north.",
                code="no_declination",
            )
        return (self.degrees + declination_deg) % 360.0

    def __str__(self) -> str:
        return f"{self.degrees:g}{' magnetic' if self.is_magnetic else ''}"


def read_heading(text: str) -> Heading:
    """Return the direction that a text means. Raises ValueError with a hint."""
    found = _TYPED.fullmatch(" ".join(text.upper().split()))
    if found is None:
        raise ValueError(_HINT)
    north = found["north"] or "T"
    degrees = _degrees(found["what"])
    return Heading(degrees % 360.0, north.startswith("M"))


class HeadingField(forms.CharField):
    """A direction; gives a Heading, or None where nothing was written.

    The form turns it true with `Heading.true_deg`, once it knows the place.
    """

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 40)
        attrs = {"autocomplete": "off", "spellcheck": "false"}
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        super().__init__(**kwargs)

    def clean(self, value: Any) -> Any:
        """Return the direction, or None."""
        text = super().clean(str(value) if value is not None else value)
        if not text:
            return None
        try:
            return read_heading(text)
        except ValueError as refusal:
            raise ValidationError(str(refusal), code="invalid") from refusal

    def prepare_value(self, value: Any) -> Any:
        """Return what the box shows: 225, 225 magnetic."""
        if isinstance(value, float):
            return f"{value:g}"
        return str(value) if isinstance(value, Heading) else value


def _degrees(what: str) -> float:
    if what[0].isdigit():
        degrees = float(what.replace(",", "."))
        if not (isfinite(degrees) and 0.0 <= degrees <= 360.0):
            raise ValueError(_HINT)
        return degrees
    for word, sign in _WORDS.items():
        what = what.replace(word, sign)
    point = re.sub(r"[ \-]", "", what)
    if point not in POINTS:
        raise ValueError(_HINT)
    return POINTS.index(point) * 22.5
