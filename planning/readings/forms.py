"""The form of one frame that worked: settings as a camera says them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from django import forms

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS, Scale
from planning.shoots.planned import PlannedSetUp
from studio.forms import StudioForm, TimeField, pair


def _box(pattern: str, such_as: str) -> forms.TextInput:
    """Return a box that a script can judge without the server, before it keeps it."""
    return forms.TextInput(
        attrs={
            "size": 8,
            "pattern": pattern,
            "title": f"As a camera says it: {such_as}",
        }
    )


class ReadingForm(StudioForm):
    """What worked; each setting is read as the nearest stop of the camera's scale."""

    f_number = forms.CharField(
        label="f-number",
        max_length=12,
        widget=_box(r"[fF]?/?[0-9]+([.,][0-9]+)?", "f/4 or 4"),
    )
    shutter = forms.CharField(
        label="Shutter",
        max_length=12,
        help_text="1/250, 250 for 1/250, or 2s for two seconds.",
        widget=_box(r"[0-9]+(/[0-9]+)?([.,][0-9]+)? ?[s”]?", "1/250 or 2s"),
    )
    iso = forms.CharField(
        label="ISO", max_length=12, widget=_box(r"([iI][sS][oO])? ?[0-9]+", "400")
    )
    set_up = forms.TypedChoiceField(
        label="Set-up", coerce=int, empty_value=None, required=False
    )
    taken_at = TimeField(
        label="At what time", required=False, help_text="Left empty: now."
    )
    note = forms.CharField(label="Note", max_length=200, required=False)
    client_key = forms.RegexField(
        r"^[A-Za-z0-9-]{8,40}$", widget=forms.HiddenInput, required=True
    )

    made_at = forms.CharField(max_length=40, required=False, widget=forms.HiddenInput)
    """When it was made by the phone that kept it; empty from a page just posted."""

    layout = (
        pair("f_number", "shutter"),
        pair("iso", "taken_at"),
        *("set_up", "note", "client_key", "made_at"),
    )

    def __init__(
        self, *args: object, set_ups: Sequence[PlannedSetUp] = (), **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)
        choices = [
            (str(one.facts.pk), f"{one.facts.number} {one.facts.name}"[:60])
            for one in set_ups
        ]
        field = cast("forms.TypedChoiceField", self.fields["set_up"])
        field.choices = [("", "None of them"), *choices]

    def clean_f_number(self) -> float:
        """Return the exact f-number of the stop that was meant."""
        words = self.cleaned_data["f_number"].strip().lower().removeprefix("f")
        return _on_scale(APERTURE_THIRDS, words.removeprefix("/"), "f/4 or 4")

    def clean_shutter(self) -> float:
        """Return the exact time, in seconds, of the stop that was meant."""
        words = self.cleaned_data["shutter"].strip().lower().replace(" ", "")
        if words.endswith(("s", "”", '"')):
            return _on_scale(SHUTTER_THIRDS, words[:-1], "1/250 or 2s")
        under = words.removeprefix("1/")
        return _on_scale(SHUTTER_THIRDS, under, "1/250 or 2s", inverse=True)

    def clean_iso(self) -> float:
        """Return the exact speed of the stop that was meant."""
        words = self.cleaned_data["iso"].strip().lower().removeprefix("iso")
        return _on_scale(ISO_THIRDS, words, "400")


def _on_scale(
    scale: Scale, words: str, such_as: str, *, inverse: bool = False
) -> float:
    try:
        number = _number(words)
        value = 1.0 / number if inverse else number
        stop = scale.nearest(value)
    except (ValueError, ZeroDivisionError):
        raise forms.ValidationError(
            f"Write it as the camera shows it: {such_as}."
        ) from None
    if not 0.85 <= value / stop.marked <= 1.18:
        raise forms.ValidationError(
            f"No camera is set to that. The nearest is {stop.nominal}."
        )
    return stop.exact


def _number(words: str) -> float:
    over, slash, under = words.strip().replace(",", ".").partition("/")
    return float(over) / float(under) if slash else float(over)
