"""The form that asks what would be."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.kits.models import KitCategory, KitItem
from planning.what_ifs.changes import Change
from studio.forms import StudioForm, row, wide


class WhatIfForm(StudioForm):
    """How late, from which set-up on, and which lens stays at home."""

    late = forms.IntegerField(
        label="Minutes late",
        required=False,
        min_value=-240,
        max_value=240,
        help_text="Below 0: early.",
    )
    start = forms.IntegerField(
        label="From set-up", required=False, min_value=1, max_value=999
    )
    lens = forms.ModelChoiceField(
        KitItem.objects.none(),
        label="Left at home",
        required=False,
        empty_label="No lens",
    )
    layout = (row(wide("late", 4), wide("start", 4), wide("lens", 4)),)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        lens = self.fields["lens"]
        if isinstance(lens, forms.ModelChoiceField):
            lens.queryset = KitItem.objects.of(KitCategory.LENS)

    def change(self) -> Change:
        """Return what is asked; what is not understood asks nothing."""
        given = self.cleaned_data if self.is_bound and self.is_valid() else {}
        lens = given.get("lens")
        return Change(
            late_minutes=given.get("late") or 0,
            from_number=given.get("start") or 1,
            missing_lens_id=lens.pk if lens else None,
        )
