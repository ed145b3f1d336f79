"""The form of a site: its skyline, its ground, its compass."""

from __future__ import annotations

import re
from typing import Any, Final

from django import forms

from planning.sites.grounds import REFLECTANCES, Ground
from planning.sites.models import Site
from planning.sites.operations import SiteDetails
from planning.sites.point_forms import day_of_year, leaf_span
from planning.sites.points import Profile
from planning.sites.skyline import Skyline, Stretch, read_skyline
from studio.forms import StudioForm, group, pair

_LEAF: Final = re.compile(
    r"\bleaf\s+(?P<from>\d{1,2} [A-Za-z]{3})[a-z]*\s*(?:to|-|–)\s*"
    r"(?P<to>\d{1,2} [A-Za-z]{3})[a-z]*\s*$",
    re.IGNORECASE,
)
_VARIATION: Final = re.compile(r"(?P<size>\d{1,3}(?:\.\d+)?)\s*°?\s*(?P<side>[EW])")


class SkylineForm(StudioForm):
    """A skyline, one thing a line, and what else shapes light at a place."""

    summary = False

    stretches = forms.CharField(
        label="Or whole stretches of one height",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text=(
            "One line for each thing that hides the sun: from, to, height, name. "
            "“225 262 6.5 headland” stands from 225° clockwise to 262° true, 6.5° high."
            " A fist at arm’s length is about 10°."
            " For trees add “, leaf 25 Apr to 10 Nov”: bare, they only thin the sun."
        ),
    )
    measured = forms.BooleanField(
        label="All heights were measured, not judged by eye", required=False
    )
    ground = forms.ChoiceField(label="People stand on", choices=Ground.choices)
    ground_pct = forms.FloatField(
        label="Share of light it throws back, %",
        min_value=0,
        max_value=100,
        required=False,
        help_text="Only for a share of your own.",
    )
    declination = forms.CharField(
        label="Compass variation",
        required=False,
        max_length=20,
        help_text="Degrees, with E or W: “1.2 W”. It stands on maps and charts.",
    )

    layout = (
        "stretches",
        "measured",
        group("Ground and compass", pair("ground", "ground_pct"), "declination"),
    )

    def clean_stretches(self) -> Skyline:
        """Return the skyline that the lines say."""
        lines = _lines(self.cleaned_data["stretches"])
        return tuple(_stretch(number, line) for number, line in lines)

    def clean_declination(self) -> float | None:
        """Return the variation in degrees, east above 0."""
        text = self.cleaned_data["declination"]
        return _declination(text) if text else None

    def clean(self) -> dict[str, Any]:
        """Ask for the share of a ground of one's own."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        own = cleaned.get("ground") == Ground.TYPED and "ground_pct" not in self.errors
        if own and cleaned.get("ground_pct") is None:
            self.add_error("ground_pct", "Write the share, or choose a ground.")
        return cleaned

    def details(self, points: Profile) -> SiteDetails:
        """Return what was typed, with the points of the line from their rows."""
        data = self.cleaned_data
        ground = Ground(data["ground"])
        share = (data["ground_pct"] or 0.0) / 100.0
        return SiteDetails(
            skyline=data["stretches"],
            profile=points,
            estimated=not data["measured"],
            ground=ground,
            ground_reflectance=REFLECTANCES.get(ground, share),
            declination_deg=data["declination"],
        )


def initial_of(site: Site) -> dict[str, Any]:
    """Return what the form shows of a site."""
    turn = site.declination_deg
    return {
        "stretches": typed(read_skyline(site.skyline)),
        "measured": not site.estimated,
        "ground": site.ground,
        "ground_pct": round(site.ground_reflectance * 100.0, 1),
        "declination": (
            "" if turn is None else f"{abs(turn):g} {'W' if turn < 0 else 'E'}"
        ),
    }


def _lines(text: str) -> list[tuple[int, str]]:
    lines = enumerate(text.splitlines(), 1)
    return [(number, line.strip()) for number, line in lines if line.strip()]


def _stretch(number: int, line: str) -> Stretch:
    leaf = _LEAF.search(line)
    bare = line[: leaf.start()].rstrip(" ,;") if leaf else line
    parts = bare.replace(";", " ").replace(",", ".").replace("°", "").split(maxsplit=3)
    try:
        start, end = (_azimuth(part) for part in parts[:2])
        return Stretch(
            from_deg=start % 360.0,
            to_deg=end % 360.0,
            height_deg=float(parts[2]),
            name=parts[3][:40] if len(parts) > 3 else "",
            leaf_from=day_of_year(leaf["from"]) if leaf else "",
            leaf_to=day_of_year(leaf["to"]) if leaf else "",
        )
    except (ValueError, IndexError):
        raise forms.ValidationError(
            f"Line {number} reads “{line[:60]}”. Write two azimuths from 0 to 360, a "
            "height from 0 to 90, and a name; for trees, “leaf 25 Apr to 10 Nov”."
        ) from None


def _declination(text: str) -> float:
    found = _VARIATION.fullmatch(text.strip().upper().replace(",", "."))
    if found is None or float(found["size"]) > 180.0:
        raise forms.ValidationError("Write degrees with E or W, such as 1.2 W.")
    size = float(found["size"])
    return -size if found["side"] == "W" else size


def _azimuth(part: str) -> float:
    degrees = float(part)
    if not 0 <= degrees <= 360:
        raise ValueError(part)
    return degrees


def typed(skyline: Any) -> str:
    """Return a skyline as the form's lines."""
    return "\n".join(
        f"{one.from_deg:g} {one.to_deg:g} {one.height_deg:g} {one.name}".strip()
        + _leaf_words(one)
        for one in skyline
    )


def _leaf_words(stretch: Stretch) -> str:
    span = leaf_span(stretch.leaf_from, stretch.leaf_to)
    return f", leaf {span}" if span else ""
