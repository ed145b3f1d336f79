"""What is wrong with a form, as lines that lead to their fields."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.forms import BaseForm, BoundField
from django.forms.formsets import BaseFormSet


@dataclass(frozen=True, slots=True)
class FormProblem:
    """One refusal: its words, and the id of the field it is about, if any."""

    message: str
    target_id: str


def form_problems(form: BaseForm | BaseFormSet[Any]) -> list[FormProblem]:
    """Return the refusals of a form or a set of forms, in the order of the fields."""
    if not form.is_bound:
        return []
    if isinstance(form, BaseFormSet):
        return [
            *(FormProblem(str(text), "") for text in form.non_form_errors()),
            *(
                problem
                for number, row in enumerate(form.forms, start=1)
                for problem in _of_form(row, f"Line {number}: ")
            ),
        ]
    return list(_of_form(form, ""))


def target_id(field: BoundField) -> str:
    """Return the id that a link to the field leads to: the first box or choice.

    Groups of choices have no box of their own to be named by a label.
    """
    return field.id_for_label or f"{field.auto_id}_0"


def _of_form(form: BaseForm, lead: str) -> Iterator[FormProblem]:
    for text in form.non_field_errors():
        yield FormProblem(lead + str(text), "")
    for field in form:
        for text in field.errors:
            words = lead + _with_label(str(text), str(field.label))
            yield FormProblem(words, "" if field.is_hidden else target_id(field))


def _with_label(text: str, label: str) -> str:
    return text if label.lower() in text.lower() else f"{label}: {text}"
