"""Forms of which there are several: the lines of a quote, the rows of a kit list."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from django import forms
from django.forms.formsets import BaseFormSet

MOST_LINES: Final = 200
LAST_KEY: Final = 2**63 - 1
"""The last key that a table of ours can have."""


def studio_lines(
    form: type[forms.Form], *, extra: int = 1, most: int = MOST_LINES
) -> type[BaseFormSet[Any]]:
    """Return the class of a set of lines, each with a tick that removes it.

    More lines than `most` are refused. Draw it by the pack's table_inline_formset.html.
    """
    return forms.formset_factory(
        form,
        extra=extra,
        can_delete=True,
        max_num=most,
        absolute_max=most,
        validate_max=True,
    )


def row_field() -> forms.IntegerField:
    """Return the hidden field of a line that says which row it is; none for a new."""
    return forms.IntegerField(
        required=False, min_value=1, max_value=LAST_KEY, widget=forms.HiddenInput
    )


def more_lines(
    data: Mapping[str, Any], *, prefix: str = "form", most: int = MOST_LINES
) -> dict[str, Any]:
    """Return what was posted with one more line, empty, at the end.

    A view answers "Add line" with the set bound to this, so it works without script.
    """
    name = f"{prefix}-TOTAL_FORMS"
    given = str(data.get(name, "0"))
    total = int(given) if given.isascii() and given.isdigit() else 0
    return {**{key: data[key] for key in data}, name: str(min(total + 1, most))}
