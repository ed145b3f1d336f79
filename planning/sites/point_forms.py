"""The rows of a skyline's line: one point each, with what stands there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, Final

from django import forms

from planning.sites.points import PointKind, Profile, SkyPoint
from studio.forms import StudioForm, studio_lines

POINTS: Final = "points"
MOST_POINTS: Final = 120
KINDS: Final = (
    (PointKind.HILL, "Hill, land"),
    (PointKind.HOUSE, "House, wall"),
    (PointKind.TREE, "Trees"),
)
LEAP_YEAR: Final = 2028
MONTHS: Final = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)
_LEAF: Final = re.compile(
    r"(?P<from>\d{1,2} [A-Za-z]{3})[a-z]*\s*(?:to|-|–)\s*"
    r"(?P<to>\d{1,2} [A-Za-z]{3})[a-z]*"
)


class PointForm(StudioForm):
    """One point of the line: where it is, how high, what stands there."""

    azimuth = forms.FloatField(
        label="Azimuth, °",
        min_value=0,
        max_value=360,
        required=False,
        widget=forms.NumberInput(attrs={"placeholder": "Azimuth"}),
    )
    height = forms.FloatField(
        label="Height, °",
        min_value=0,
        max_value=90,
        required=False,
        widget=forms.NumberInput(attrs={"placeholder": "Height"}),
    )
    what = forms.ChoiceField(
        label="What", choices=KINDS, required=False, initial=PointKind.HILL
    )
    leaf = forms.CharField(
        label="In leaf",
        required=False,
        max_length=40,
        widget=forms.TextInput(attrs={"placeholder": "25 Apr to 10 Nov"}),
    )
    measured = forms.BooleanField(label="Measured", required=False)

    def clean_leaf(self) -> tuple[str, str]:
        """Return the first and last day in leaf, as MM-DD; empty: always."""
        text = str(self.cleaned_data["leaf"]).strip()
        if not text:
            return "", ""
        found = _LEAF.fullmatch(text)
        refusal = forms.ValidationError("Write it like 25 Apr to 10 Nov.")
        if found is None:
            raise refusal
        try:
            return day_of_year(found["from"]), day_of_year(found["to"])
        except ValueError:
            raise refusal from None

    def clean(self) -> dict[str, Any]:
        """Ask for the other half of a point, and for leaves of trees only."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for name, other in (("azimuth", "height"), ("height", "azimuth")):
            lacks = cleaned.get(name) is None and name not in self.errors
            if lacks and cleaned.get(other) is not None:
                self.add_error(name, "A point needs both figures.")
        if any(cleaned.get("leaf", ())) and cleaned.get("what") != PointKind.TREE:
            self.add_error("leaf", "Only trees have leaves: choose Trees.")
        return cleaned

    @property
    def point(self) -> SkyPoint | None:
        """The point; None where nothing was written."""
        data = self.cleaned_data
        if data.get("azimuth") is None or data.get("height") is None:
            return None
        first, last = data["leaf"]
        return SkyPoint(
            azimuth_deg=data["azimuth"],
            height_deg=data["height"],
            what=data["what"],
            measured=data["measured"],
            leaf_from=first,
            leaf_to=last,
        )


PointLines = studio_lines(PointForm, extra=1, most=MOST_POINTS)


def points_of(lines: Iterable[Any]) -> Profile:
    """Return the points of valid rows, by azimuth; removed rows are left out."""
    kept = [one for one in lines if not one.cleaned_data.get("DELETE")]
    points = [one.point for one in kept if one.point is not None]
    return tuple(sorted(points, key=lambda one: one.azimuth_deg))


def initial_points(profile: Profile) -> list[Mapping[str, Any]]:
    """Return what the rows show of a line of points."""
    return [
        {
            "azimuth": one.azimuth_deg,
            "height": one.height_deg,
            "what": one.what,
            "leaf": leaf_span(one.leaf_from, one.leaf_to),
            "measured": one.measured,
        }
        for one in profile
    ]


def day_of_year(words: str) -> str:
    """Return a day such as "25 Apr" as MM-DD; ValueError if there is no such day."""
    day, month = words.split()
    on = date(LEAP_YEAR, MONTHS.index(month.title()) + 1, int(day))
    return f"{on:%m-%d}"


def leaf_span(first: str, last: str) -> str:
    """Return two days of MM-DD as people write them: 25 Apr to 10 Nov."""
    if not first:
        return ""
    days = (f"{int(day[3:])} {MONTHS[int(day[:2]) - 1]}" for day in (first, last))
    return " to ".join(days)
