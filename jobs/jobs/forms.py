"""Forms of jobs: the enquiry, the list's filter, and why a job was closed."""

from __future__ import annotations

from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Div
from django import forms
from django.urls import reverse

from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails
from jobs.clients.queries import LikelyClient, likely_client, likely_clients
from jobs.jobs.choices import Channel, LostReason, Source
from jobs.jobs.operations import Caller, Enquiry
from jobs.jobs.states import JobStage
from jobs.jobs.titles import title_of
from studio.forms import (
    DateField,
    HintedRadios,
    PhoneField,
    StudioForm,
    page_helper,
    pair,
)
from studio.people.models import Person

NOBODY: Final = "new"

SHOWN: Final = (
    ("open", "All that is open"),
    *((stage.value, stage.label) for stage in JobStage),
    ("closed", "All that is closed"),
    ("all", "Every job"),
)


class EnquiryForm(StudioForm):
    """What somebody asked for, while still on the phone."""

    name = forms.CharField(label="Name", max_length=200)
    phone = PhoneField(required=False)
    email = forms.EmailField(label="E-mail", required=False, max_length=254)
    wish = forms.CharField(
        label="What they wish",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    wished_on = DateField(label="Date they have in mind", required=False)
    came_in = forms.ChoiceField(
        label="How it came",
        choices=[one for one in Channel.choices if one[0] != Channel.FORM],
        initial=Channel.PHONE,
        required=False,
    )

    def __init__(self, *args: Any, client: Client | None = None, **kwargs: Any) -> None:
        if client is not None:
            kwargs["initial"] = {
                "name": client.name,
                "phone": client.phone,
                "email": client.email,
                "known": str(client.pk),
            }
        super().__init__(*args, **kwargs)
        asks = {
            "hx-get": reverse("jobs:enquiry_known"),
            "hx-trigger": "change",
            "hx-include": "closest form",
            "hx-target": "#known",
        }
        for name in ("name", "phone", "email"):
            self.fields[name].widget.attrs.update(asks)
        for name in ("phone", "email", "came_in"):
            cast("Any", self.fields[name]).unmarked = True
        if client is not None and not self.is_bound:
            self._ask([likely_client(client)])

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form; the question who it is stands under the name."""
        known = ["known"] if "known" in self.fields else []
        return page_helper(
            "name",
            pair("phone", "email"),
            Div(*known, css_id="known"),
            "wish",
            pair("wished_on", "came_in"),
        )

    def clean(self) -> dict[str, Any]:
        """Ask for one way to reach them, and whether they are somebody known."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        reach = {name: cleaned.get(name) or "" for name in ("phone", "email")}
        likely = likely_clients(name=cleaned.get("name", ""), **reach)
        if likely:
            self._ask(likely)
            self._take_answer(likely)
        known: Client | None = cleaned.get("known")
        is_reached = any(reach.values()) or (known and (known.phone or known.email))
        if not is_reached and not {"phone", "email", "known"} & set(self.errors):
            self.add_error("phone", "Give a phone number or an e-mail address.")
        return cleaned

    def caller(self) -> Caller:
        """Return who asked."""
        data = self.cleaned_data
        details = ClientDetails(
            name=data["name"], phone=data["phone"], email=data["email"]
        )
        return Caller(details=details, known=data.get("known"))

    def enquiry(self) -> Enquiry:
        """Return what was asked for, with a title made of it."""
        data = self.cleaned_data
        known: Client | None = data.get("known")
        return Enquiry(
            title=title_of(known.name if known else data["name"], data["wish"]),
            wish=data["wish"],
            wished_on=data["wished_on"],
            came_in=Channel(data["came_in"] or Channel.PHONE),
        )

    def _ask(self, likely: list[LikelyClient]) -> None:
        choices = [(str(one.pk), one.name) for one in likely]
        hints = {str(one.pk): one.detail for one in likely}
        self.fields["known"] = forms.ChoiceField(
            label="Is it somebody you know?",
            choices=[*choices, (NOBODY, "Somebody new")],
            required=False,
            widget=HintedRadios(hints),
        )
        cast("Any", self.fields["known"]).unmarked = True

    def _take_answer(self, likely: list[LikelyClient]) -> None:
        answer = self.data.get("known", "")
        if answer == NOBODY:
            return
        if answer not in {str(one.pk) for one in likely}:
            self.add_error("known", "Say whether it is somebody you know.")
            return
        self.cleaned_data["known"] = Client.objects.get(pk=answer)


class JobForm(StudioForm):
    """What a job is called, and what was asked for."""

    title = forms.CharField(label="What it is called", max_length=200)
    wish = forms.CharField(
        label="What they wish",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 6}),
    )
    wished_on = DateField(label="Date they have in mind", required=False)
    came_in = forms.ChoiceField(label="How it came", choices=Channel.choices)
    source = forms.ChoiceField(
        label="How they found you",
        choices=[("", "Not known"), *Source.choices],
        required=False,
    )
    came_by = forms.CharField(
        label="More on that",
        required=False,
        max_length=80,
        help_text="Such as who recommended you",
    )
    owner = forms.ModelChoiceField(
        Person.objects.filter(is_active=True), label="Who answers"
    )
    reply_by_on = DateField(label="Answer promised by")

    layout = (
        "title",
        "wish",
        "wished_on",
        pair("came_in", "source"),
        "came_by",
        pair("owner", "reply_by_on"),
    )

    def enquiry(self) -> Enquiry:
        """Return what was typed of the enquiry."""
        names = ("title", "wish", "wished_on", "came_in", "source", "came_by")
        return Enquiry(**{name: self.cleaned_data[name] for name in names})


class BecauseForm(StudioForm):
    """Why a job was not taken, or was called off."""

    because = forms.CharField(label="Why?", max_length=200)


class LostForm(BecauseForm):
    """Why a job was not taken: a choice to count by, and words."""

    reason = forms.ChoiceField(
        label="What was it?", choices=LostReason.choices, widget=forms.RadioSelect
    )
    because = forms.CharField(label="In your words", max_length=200, required=False)

    layout = ("reason", "because")

    def clean(self) -> dict[str, Any]:
        """Keep the choice as the words where no others are given."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if cleaned.get("reason") == LostReason.OTHER and not cleaned.get("because"):
            self.add_error("because", "Say what it was.")
        elif cleaned.get("reason") and not cleaned.get("because"):
            cleaned["because"] = LostReason(cleaned["reason"]).label
        return cleaned


class JobFilterForm(forms.Form):
    """Which jobs the list shows."""

    q = forms.CharField(required=False, max_length=100)
    show = forms.ChoiceField(choices=SHOWN, required=False)
    sort = forms.ChoiceField(choices=[("session", "session")], required=False)
