"""Where a place is, pasted in whatever way: degrees, minutes, geo: or a map's link."""

from __future__ import annotations

import re
from math import isfinite
from typing import Any, Final
from urllib.parse import unquote

from django import forms
from django.core.exceptions import ValidationError

from studio.forms.echoes import EchoMixin

_NUMBER: Final = r"[+-]?\d{1,3}(?:\.\d+)?"
_PAIR: Final = re.compile(rf"({_NUMBER})\s*[,;/ ]\s*({_NUMBER})")
_COMMA_PAIR: Final = re.compile(r"([+-]?\d{1,3},\d+)\s*[;/ ]\s*([+-]?\d{1,3},\d+)")
_GEO: Final = re.compile(
    rf"geo:({_NUMBER}),({_NUMBER})(?:,{_NUMBER})?(?:;.*)?(?:\?.*)?"
)
_IN_LINK: Final = re.compile(
    r"(?<![\d.])([+-]?\d{1,2}\.\d{2,})\s*(?:[,/]|&\w+=)\s*([+-]?\d{1,3}\.\d{2,})"
)
_ANGLE: Final = re.compile(
    r"(?P<before>[NSEW])?\s*(?P<degrees>\d{1,3}(?:\.\d+)?)\s*°?"
    r"(?:\s*(?P<minutes>\d{1,2}(?:\.\d+)?)\s*['′’]?)?"
    r"(?:\s*(?P<seconds>\d{1,2}(?:\.\d+)?)\s*(?:\"|″|”|'')?)?"
    r"\s*(?P<after>[NSEW])?"
)
_SIGNS: Final = {"N": 1, "E": 1, "S": -1, "W": -1}

Position = tuple[float, float]


class PositionError(ValueError):
    """A text names no place on the earth; the message says why."""


def read_position(text: str) -> Position:
    """Return the latitude and longitude that a text means, in degrees to 6 decimals.

    North and east are positive. Errors: PositionError where the text holds no pair, or
    one that is not on the earth.
    """
    text = " ".join(text.replace("\N{MINUS SIGN}", "-").split())
    found = _as_geo(text) or _as_link(text) or _as_angles(text) or _as_pair(text)
    if found is None:
        raise PositionError(
            "Paste latitude and longitude, such as 54.47, -0.62, or a link to a map."
        )
    return _on_earth(*found)


class CoordinatesField(EchoMixin, forms.CharField):
    """A place on the earth; gives (latitude, longitude) in degrees, or None."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 400)
        attrs = {"autocomplete": "off", "spellcheck": "false"}
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        super().__init__(**kwargs)

    def clean(self, value: Any) -> Any:
        """Return the position, or None where nothing was written."""
        text = super().clean(value)
        if not text:
            return None
        try:
            return read_position(text)
        except PositionError as refusal:
            raise ValidationError(str(refusal), code="invalid") from refusal

    def prepare_value(self, value: Any) -> Any:
        """Return what the box shows: 54.47, -0.62."""
        return position_text(value) if isinstance(value, tuple) else value


def position_text(position: Position) -> str:
    """Return a position as it can be pasted again: 54.47, -0.62."""
    return ", ".join(f"{angle:.6f}".rstrip("0").rstrip(".") for angle in position)


def _as_geo(text: str) -> Position | None:
    found = _GEO.fullmatch(text.replace(" ", ""))
    return (float(found[1]), float(found[2])) if found else None


def _as_link(text: str) -> Position | None:
    if "://" not in text:
        return None
    found = _IN_LINK.search(unquote(text))
    return (float(found[1]), float(found[2])) if found else None


def _as_pair(text: str) -> Position | None:
    bare = text.replace("°", "")
    if found := _PAIR.fullmatch(bare):
        return float(found[1]), float(found[2])
    if found := _COMMA_PAIR.fullmatch(bare):
        return _comma_float(found[1]), _comma_float(found[2])
    return None


def _as_angles(text: str) -> Position | None:
    upper = text.upper()
    for joint in (r"\s*[,;/]\s*", r"(?<=[NSEW])\s*(?=\d)", r"(?<=\S)\s+(?=[NSEW])"):
        halves = re.split(joint, upper, maxsplit=1)
        if len(halves) == 2:
            one, two = _angle(halves[0]), _angle(halves[1])
            if one and two and one[1] != two[1]:
                return (one[0], two[0]) if one[1] == "NS" else (two[0], one[0])
    return None


def _angle(text: str) -> tuple[float, str] | None:
    found = _ANGLE.fullmatch(text.strip())
    if found is None or bool(found["before"]) == bool(found["after"]):
        return None
    side = found["before"] or found["after"]
    minutes, seconds = float(found["minutes"] or 0), float(found["seconds"] or 0)
    if minutes >= 60 or seconds >= 60:
        return None
    size = float(found["degrees"]) + minutes / 60 + seconds / 3600
    return _SIGNS[side] * size, "NS" if side in "NS" else "EW"


def _comma_float(text: str) -> float:
    return float(text.replace(",", "."))


def _on_earth(latitude_deg: float, longitude_deg: float) -> Position:
    if not (isfinite(latitude_deg) and isfinite(longitude_deg)):
        raise PositionError("Write both numbers in full.")
    if abs(latitude_deg) > 90 >= abs(longitude_deg):
        raise PositionError("Latitude comes first, then longitude: these look swapped.")
    if abs(latitude_deg) > 90 or abs(longitude_deg) > 180:
        raise PositionError("Latitude goes to 90 degrees and longitude to 180.")
    return round(latitude_deg, 6), round(longitude_deg, 6)
