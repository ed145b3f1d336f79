"""Days of the books in forms: what may be typed, and where a refusal stands."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.utils import timezone

from invoicing.periods.operations import BooksDayError
from studio.errors import DomainError
from studio.forms import DateField
from studio.forms.days import Lean
from studio.profile.models import StudioProfile


def _today() -> date:
    """Return the day by the studio's clock."""
    return timezone.localdate(timezone=StudioProfile.load().zone)


class PastDateField(DateField):
    """A day on which something of the books happened: today at the latest."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(lean=Lean.BACK, today=_today, **kwargs)

    def validate(self, value: date | None) -> None:
        """Refuse a day that is still to come; figures would wait for it."""
        super().validate(value)
        if value and value > self.today():
            raise forms.ValidationError("That day is still to come.")


def tell_refusal(
    form: forms.Form, refusal: DomainError, *, day: str, otherwise: str | None = None
) -> None:
    """Put a refusal beside the day where it is about the day.

    All others stand beside `otherwise`, or on top.
    """
    is_of_day = isinstance(refusal, BooksDayError)
    form.add_error(day if is_of_day else otherwise, str(refusal))
