"""The form that types a skyline."""

from __future__ import annotations

from typing import Any

from django import forms

from planning.sites.skyline import Skyline, Stretch
from studio.forms import StudioForm


class SkylineForm(StudioForm):
    """A skyline, one stretch a line: from, to, height, name."""

    stretches = forms.CharField(
        label="Skyline",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text=(
            "One line for each thing that hides the sun: from, to, height, name. "
            "“225 262 6.5 headland” stands from 225° clockwise to 262° true, 6.5° high."
            " A fist at arm’s length is about 10°."
        ),
    )
    measured = forms.BooleanField(
        label="Heights were measured, not judged by eye", required=False
    )

    layout = ("stretches", "measured")

    def clean_stretches(self) -> Skyline:
        """Return the skyline that the lines say."""
        lines = self.cleaned_data["stretches"].splitlines()
        typed = [(n, line.strip()) for n, line in enumerate(lines, 1) if line.strip()]
        return tuple(_stretch(number, line) for number, line in typed)


def _stretch(number: int, line: str) -> Stretch:
    parts = line.replace(";", " ").replace(",", ".").replace("°", "").split(maxsplit=3)
    try:
        start, end = (_azimuth(part) for part in parts[:2])
        height = float(parts[2])
        return Stretch(
            from_deg=start % 360.0,
            to_deg=end % 360.0,
            height_deg=height,
            name=parts[3][:40] if len(parts) > 3 else "",
        )
    except (ValueError, IndexError):
        raise forms.ValidationError(
            f"Line {number} reads “{line[:40]}”. Write two azimuths from 0 to 360, a "
            "height from 0 to 90, and a name."
        ) from None


def _azimuth(part: str) -> float:
    degrees = float(part)
    if not 0 <= degrees <= 360:
        raise ValueError(part)
    return degrees


def typed(skyline: Any) -> str:
    """Return a skyline as the form's lines."""
    return "\n".join(
        f"{one.from_deg:g} {one.to_deg:g} {one.height_deg:g} {one.name}".strip()
        for one in skyline
    )
