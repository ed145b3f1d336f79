"""The form by which kit is ticked back: one answer and one note an item."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from crispy_forms.helper import FormHelper
from django import forms

from jobs.returns.models import CameBack, KitReturn
from jobs.returns.operations import Back
from jobs.returns.queries import BagBack
from studio.forms import StudioForm, group, page_helper

OPEN = "Not ticked yet"


class KitBackForm(StudioForm):
    """How each item of a session came back, by bag."""

    def __init__(
        self,
        *args: Any,
        bags: Sequence[BagBack],
        ticked: Mapping[int, KitReturn],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.bags = bags
        for item in self.items:
            row = ticked.get(item.pk)
            self.fields[f"state_{item.pk}"] = forms.ChoiceField(
                label=item.name,
                choices=_choices(row),
                required=False,
                initial=row.state if row else "",
                widget=forms.RadioSelect,
                help_text=f"Goes to {item.shelf}" if item.shelf else "",
            )
            self.fields[f"note_{item.pk}"] = forms.CharField(
                label=f"Note on {item.name}",
                required=False,
                max_length=200,
                initial=row.note if row else "",
            )

    @property
    def items(self) -> list[Any]:
        """Every item of every bag."""
        return [item for bag in self.bags for item in bag.items]

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: a group for each bag."""
        return page_helper(
            *(
                group(
                    bag.name,
                    *(
                        name
                        for item in bag.items
                        for name in (f"state_{item.pk}", f"note_{item.pk}")
                    ),
                )
                for bag in self.bags
            )
        )

    def clean(self) -> dict[str, Any]:
        """Refuse a note that nothing was ticked for: it would be lost."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for item in self.items:
            if cleaned.get(f"note_{item.pk}") and not cleaned.get(f"state_{item.pk}"):
                self.add_error(f"state_{item.pk}", "Say how it came back as well.")
        return cleaned

    def backs(self) -> dict[int, Back]:
        """Return what was ticked, by item."""
        found = {}
        for item in self.items:
            if state := self.cleaned_data[f"state_{item.pk}"]:
                note = self.cleaned_data[f"note_{item.pk}"]
                found[item.pk] = Back(CameBack(state), note)
        return found


def _choices(row: KitReturn | None) -> list[tuple[str, str]]:
    ticks = [(one.value, str(one.label)) for one in CameBack]
    return ticks if row else [("", OPEN), *ticks]
