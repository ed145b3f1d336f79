"""The form that adds something of one's own to a checklist."""

from __future__ import annotations

from collections.abc import Iterable

from django import forms

from jobs.kits.models import KitItem
from planning.checklists.models import Section
from studio.forms import StudioForm

MOST_LINES, LONGEST_KEY = 400, 80


class OwnItemForm(StudioForm):
    """What else to pack or do, and in which section it stands."""

    words = forms.CharField(label="Something else to pack or do", max_length=120)
    section = forms.ChoiceField(
        label="Section", choices=Section.choices, initial=Section.GRIP
    )


class TakeForm(forms.Form):
    """Which item of the studio's kit is taken."""

    kit_item = forms.ModelChoiceField(KitItem.objects.in_use())


def read_keys(given: Iterable[str]) -> set[str]:
    """Return what was sent as keys of lines; anything longer is none."""
    kept = [key for key in given if 0 < len(key) <= LONGEST_KEY]
    return set(kept[:MOST_LINES])
