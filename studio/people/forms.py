"""The form of one person."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.validators import UnicodeUsernameValidator

from studio.forms import PhoneField, StudioForm, row
from studio.people.models import Person
from studio.people.operations import PersonDetails
from studio.people.policy import Hat

MAY = {
    Hat.OWNER: "Everything, with prices, costs, settings and people",
    Hat.PLANNER: "Jobs, bookings, light plans, kit and call sheets; drafts quotes",
    Hat.BOOKKEEPER: "Invoices, payments and clients; reads jobs and quotes",
}


class PersonForm(StudioForm):
    """Who somebody is, how they sign in, and what they may do."""

    name = forms.CharField(max_length=120)
    username = forms.CharField(
        label="Sign-in name",
        max_length=60,
        validators=[UnicodeUsernameValidator()],
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )
    phone = PhoneField(required=False, help_text="Printed on call sheets")
    email = forms.EmailField(
        label="E-mail", required=False, help_text="Call sheets go there"
    )
    is_owner = forms.BooleanField(
        label="Owner", required=False, help_text=MAY[Hat.OWNER]
    )
    is_planner = forms.BooleanField(
        label="Planner", required=False, help_text=MAY[Hat.PLANNER]
    )
    is_bookkeeper = forms.BooleanField(
        label="Bookkeeper", required=False, help_text=MAY[Hat.BOOKKEEPER]
    )

    layout = (
        row("name", "username"),
        row("phone", "email"),
        "is_owner",
        "is_planner",
        "is_bookkeeper",
    )

    def clean(self) -> dict[str, Any]:
        """Refuse somebody who could open no page at all."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not self._hats(cleaned):
            self.add_error("is_owner", "Tick at least one.")
        return cleaned

    def details(self) -> PersonDetails:
        """Return what was typed."""
        data = self.cleaned_data
        return PersonDetails(
            name=data["name"],
            username=data["username"],
            hats=self._hats(data),
            email=data["email"],
            phone=data["phone"],
        )

    @staticmethod
    def _hats(data: dict[str, Any]) -> frozenset[Hat]:
        return frozenset(hat for hat in Hat if data.get(f"is_{hat.value.lower()}"))


def initial_of(person: Person) -> dict[str, Any]:
    """Return what the form shows of a person."""
    return {name: getattr(person, name) for name in PersonForm.base_fields}
