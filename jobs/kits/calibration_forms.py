"""The form of a test frame."""

from __future__ import annotations

import re
from typing import Any, Final

from django import forms

from jobs.kits.calibrating import ProofFrame
from jobs.kits.models import KitCategory, KitItem
from studio.forms import StudioForm, pair

GUIDE, LOSS = "guide", "loss"
LEAST_POWER: Final = 1.0 / 1024.0
_SHARE: Final = re.compile(r"(?:1\s*/\s*)(?P<under>\d{1,4}(?:\.\d+)?)")


class ProofFrameForm(StudioForm):
    """One frame lit by this flash alone, well exposed: what it was shot with."""

    summary = True

    distance_m = forms.FloatField(
        label="Flash to sitter, m", min_value=0.1, max_value=100
    )
    power = forms.CharField(
        label="Power", max_length=12, help_text="As the unit says it: 1/1, 1/4, full"
    )
    iso = forms.IntegerField(label="ISO", min_value=25, max_value=102_400)
    f_number = forms.FloatField(
        label="The right f-number", min_value=0.7, max_value=128
    )
    modifier = forms.ModelChoiceField(
        KitItem.objects.none(),
        label="Through or into",
        required=False,
        empty_label="Nothing: the bare flash",
    )
    finds = forms.ChoiceField(
        label="What the frame is to tell",
        choices=(
            (GUIDE, "The flash’s guide number"),
            (LOSS, "What the modifier takes"),
        ),
    )

    layout = (
        pair("distance_m", "power"),
        pair("iso", "f_number"),
        pair("modifier", "finds"),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        modifier = self.fields["modifier"]
        if isinstance(modifier, forms.ModelChoiceField):
            modifier.queryset = KitItem.objects.in_use().of(KitCategory.MODIFIER)

    def clean_power(self) -> float:
        """Return the power as a share of full."""
        text = str(self.cleaned_data["power"]).strip().lower().replace(",", ".")
        share = _share_of(text.removesuffix("power").strip())
        if share is None or not LEAST_POWER <= share <= 1.0:
            raise forms.ValidationError(
                "Write the power as the unit says it, from 1/1024 to 1/1: 1/4, full."
            )
        return share

    def clean(self) -> dict[str, Any]:
        """Ask for the modifier whose loss is to be found."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        is_loss = cleaned.get("finds") == LOSS and "modifier" not in self.errors
        if is_loss and cleaned.get("modifier") is None:
            self.add_error(
                "modifier", "Choose the modifier that the flash shot through."
            )
        return cleaned

    def frame(self) -> ProofFrame:
        """Return the frame."""
        data = self.cleaned_data
        return ProofFrame(
            f_number=data["f_number"],
            distance_m=data["distance_m"],
            power=data["power"],
            iso=float(data["iso"]),
        )


def _share_of(text: str) -> float | None:
    if text == "full":
        return 1.0
    if found := _SHARE.fullmatch(text):
        under = float(found["under"])
        return 1.0 / under if under else None
    try:
        return float(text)
    except ValueError:
        return None
