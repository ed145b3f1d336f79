"""The form of a client."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from jobs.clients.models import ClientKind, Contact
from jobs.clients.operations import ClientDetails
from studio.countries import country_choices
from studio.forms import HintedRadios, PhoneField, StudioForm, pair, studio_lines
from studio.profile.models import StudioProfile


class ClientForm(StudioForm):
    """What is known of a client."""

    name = forms.CharField(max_length=200)
    kind = forms.ChoiceField(
        choices=ClientKind.choices,
        initial=ClientKind.PERSON,
        widget=HintedRadios(
            {
                ClientKind.PERSON: "Sees one price with the tax in it",
                ClientKind.ORGANISATION: "Sees the tax on a line of its own",
            }
        ),
    )
    contact_name = forms.CharField(
        label="Contact",
        required=False,
        max_length=200,
        help_text="Whom to greet and ring, where the client is an organisation",
    )
    phone = PhoneField(required=False)
    email = forms.EmailField(label="E-mail", required=False, max_length=254)
    address = forms.CharField(
        required=False, max_length=400, widget=forms.Textarea(attrs={"rows": 3})
    )
    country = forms.ChoiceField(
        required=False,
        choices=country_choices,
    )
    tax_number = forms.CharField(label="Tax number", required=False, max_length=40)
    notes = forms.CharField(
        help_text="The first line stands on the page of each job",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    layout = (
        "name",
        "kind",
        "contact_name",
        pair("phone", "email"),
        "address",
        pair("country", "tax_number"),
        "notes",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not StudioProfile.load().tax_registered:
            cast("HintedRadios", self.fields["kind"].widget).hints = {}
            self.fields["tax_number"].label = "Registration number"

    def details(self) -> ClientDetails:
        """Return what was typed."""
        return ClientDetails(**self.cleaned_data)


class ContactForm(StudioForm):
    """Somebody else at a client's."""

    name = forms.CharField(max_length=200)
    role = forms.CharField(label="Does there", required=False, max_length=120)
    phone = PhoneField(
        required=False, widget=forms.TextInput(attrs={"type": "tel", "class": "phone"})
    )
    email = forms.EmailField(label="E-mail", required=False, max_length=254)

    def contact(self) -> Contact:
        """Return what was typed."""
        names = ("name", "role", "phone", "email")
        return Contact(**{name: self.cleaned_data[name] for name in names})


ContactLines = studio_lines(ContactForm, extra=2, most=40)
