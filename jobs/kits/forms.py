"""The form of an item of kit."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.kits.models import KitItem


class KitItemForm(forms.ModelForm):  # type: ignore[type-arg]
    """What is known of an item; the figures that fit its category."""

    class Meta:
        model = KitItem
        fields = [
            "name",
            "category",
            "serial",
            "bag",
            "sensor_width_mm",
            "sensor_height_mm",
            "base_iso",
            "highest_iso",
            "sync_denominator",
            "fastest_denominator",
            "frames_per_battery",
            "megabytes_per_frame",
            "focal_length_mm",
            "longest_focal_length_mm",
            "widest_f_number",
            "narrowest_f_number",
            "close_focus_m",
            "stabilisation_stops",
            "guide_number_m",
            "loss_stops",
            "recycle_s",
            "notes",
            "retired",
        ]

    def details(self) -> dict[str, Any]:
        """Return what was typed."""
        return dict(self.cleaned_data)
