"""The forms of a list: the file, and which of its columns says what."""

from __future__ import annotations

from typing import Any, cast

from crispy_forms.helper import FormHelper
from django import forms

from studio.forms import StudioForm, page_helper, row
from studio.imports.kinds import Kind
from studio.imports.rows import Matching, samples
from studio.tables import MOST_BYTES, DateOrder, Table

ORDERS = [
    (DateOrder.DAY_FIRST.value, "Day, month, year"),
    (DateOrder.MONTH_FIRST.value, "Month, day, year"),
    (DateOrder.YEAR_FIRST.value, "Year, month, day"),
]
ORDER = "days_are_written"


class ListForm(StudioForm):
    """The file that holds a list."""

    file = forms.FileField(
        label="The list, as CSV",
        help_text="At most 1,000 rows and 2 MB, with the names of its columns on top.",
    )

    def clean_file(self) -> Any:
        """Refuse what is too large before it is read."""
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError("The file is larger than 2 MB.")
        return file


class MatchingForm(StudioForm):
    """Which column of a file holds what."""

    def __init__(self, *args: Any, kind: Kind, table: Table, guess: Matching) -> None:
        super().__init__(*args)
        self.kind = kind
        named = [
            (str(place), name or f"Column {place + 1}")
            for place, name in enumerate(table.head)
        ]
        for column in kind.columns:
            place = guess.places.get(column.name)
            self.initial[column.name] = "" if place is None else str(place)
            self.fields[column.name] = forms.ChoiceField(
                label=column.label,
                required=column.required,
                choices=[("", "Not in the file"), *named],
                error_messages={"required": f"Say which column holds: {column.label}."},
            )
        if self.has_days:
            self.fields[ORDER] = forms.ChoiceField(
                label="Days are written", choices=ORDERS
            )
            self.initial[ORDER] = guess.order.value
        for name, field in self.fields.items():
            cast("Any", field).unmarked = True
            field.help_text = self._seen(name, table)

    @property
    def has_days(self) -> bool:
        """Whether a column of this kind holds days."""
        return any(column.is_day for column in self.kind.columns)

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: two columns of the file side by side."""
        names = list(self.fields)
        rows: list[Any] = [
            row(*names[first : first + 2]) if names[first + 1 :] else names[first]
            for first in range(0, len(names), 2)
        ]
        return page_helper(*rows)

    def matching(self) -> Matching:
        """Return which column holds what."""
        data = self.cleaned_data
        return Matching(
            places={
                column.name: int(data[column.name]) if data[column.name] else None
                for column in self.kind.columns
            },
            order=DateOrder(data[ORDER]) if self.has_days else DateOrder.DAY_FIRST,
        )

    def _seen(self, name: str, table: Table) -> str:
        chosen = self.data.get(name, self.initial.get(name)) or ""
        if name == ORDER or not str(chosen).isdigit() or int(chosen) >= len(table.head):
            return ""
        seen = samples(table, int(chosen))
        cut = [word if len(word) <= 40 else f"{word[:39]}…" for word in seen]
        return f"Says {', '.join(cut)}" if cut else "Says nothing in any row"
