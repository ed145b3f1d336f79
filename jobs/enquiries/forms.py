"""The public form, its switch in the settings, and the answer to an enquiry."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Any, Final

from django import forms
from django.core import signing
from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from jobs.enquiries.operations import Reply, Written
from studio.forms import DateField, StudioForm, page_helper
from studio.forms.phones import read_phone
from studio.profile.forms import ProfileForm

SALT: Final = "public enquiry"
QUICKEST: Final = timedelta(seconds=3)
SLOWEST: Final = timedelta(hours=24)
_MAIL: Final = re.compile(r"[^\s,;<>()]+@[^\s,;<>()]+")


def opened_stamp(at: datetime) -> str:
    """Return when a form was opened, in a form that only this studio can have made."""
    return signing.dumps(int(at.timestamp()), salt=SALT)


class PublicForm(StudioForm):
    """Four questions to whoever found the studio; nobody signs in for it.

    `homepage` is hidden from people: who fills it in is a program. `opened` says when
    the page was made; an answer within seconds is asked for once more.
    """

    name = forms.CharField(
        label="Your name",
        max_length=120,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    reach = forms.CharField(
        label="How to reach you",
        max_length=200,
        help_text="A phone number, an e-mail address, or both",
    )
    when = forms.CharField(
        label="When",
        required=False,
        max_length=120,
        help_text="A date, or words such as “a weekend in May”",
    )
    what = forms.CharField(
        label="What you have in mind",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Who is to be photographed, how many, and what for",
    )
    homepage = forms.CharField(
        label="Leave this empty",
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs={"tabindex": "-1", "autocomplete": "off"}),
    )
    opened = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, at: datetime, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.at = at
        self.phone = self.email = ""

    @property
    def helper(self) -> Any:
        """How crispy draws the form: the page places what nobody is to see."""
        return page_helper("name", "reach", "when", "what")

    @property
    def is_by_a_program(self) -> bool:
        """Whether the field was filled in that people do not see."""
        return bool(self.data.get("homepage"))

    def clean_reach(self) -> str:
        """Find the number and the address in what was written."""
        written: str = self.cleaned_data["reach"]
        found = _MAIL.search(written)
        if found:
            self.email = found.group().rstrip(".,;")
            try:
                validate_email(self.email)
            except ValidationError as refusal:
                raise ValidationError(
                    "The e-mail address is not whole: ann@example.org."
                ) from refusal
            written = written.replace(found.group(), " ")
        left = " ".join(written.replace(" or ", " ").split()).strip(" ,;/")
        if any(sign.isdigit() for sign in left):
            number = read_phone(left)
            if number is None:
                raise ValidationError(
                    "Write the phone number in figures, such as 01632 960101."
                )
            self.phone = number
        if not self.phone and not self.email:
            raise ValidationError("Give a phone number or an e-mail address.")
        return str(self.cleaned_data["reach"])

    def clean(self) -> dict[str, Any]:
        """Ask once more where the answer came quicker than a person writes."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not self._was_opened_well():
            self.add_error(
                None, "This page was open for too short or too long. Send it once more."
            )
        return cleaned

    def written(self) -> Written:
        """Return what was written."""
        data = self.cleaned_data
        return Written(
            name=data["name"],
            phone=self.phone,
            email=self.email,
            when=data["when"],
            wished_on=_day(data["when"]),
            what=data["what"],
        )

    def _was_opened_well(self) -> bool:
        try:
            opened = int(signing.loads(self.data.get("opened", ""), salt=SALT))
        except (signing.BadSignature, TypeError, ValueError):
            return False
        age = self.at.timestamp() - opened
        return QUICKEST.total_seconds() <= age <= SLOWEST.total_seconds()


class EnquiriesForm(ProfileForm):
    """Whether strangers may write by a form, and the texts that answers start from."""

    enquiry_form_open = forms.BooleanField(
        label="Let people write by a form on this machine’s public address",
        required=False,
    )
    enquiry_words = forms.CharField(
        label="What stands above the form",
        required=False,
        max_length=600,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    guide_words = forms.CharField(
        label="Your price guide, as an answer says it",
        required=False,
        max_length=4000,
        help_text="You read and change it each time before it goes",
        widget=forms.Textarea(attrs={"rows": 8}),
    )

    facts = ("enquiry_form_open", "enquiry_words", "guide_words")


class ReplyForm(StudioForm):
    """An answer to an enquiry, shown and changed before it goes."""

    subject = forms.CharField(label="Subject", max_length=150)
    words = forms.CharField(
        label="Answer",
        max_length=5000,
        widget=forms.Textarea(attrs={"rows": 14}),
    )
    nudge_on = DateField(
        label="Ask again on",
        required=False,
        help_text="If nothing has come by then, it stands on Today",
    )

    layout = ("subject", "words", "nudge_on")

    def reply(self) -> Reply:
        """Return what is to be sent."""
        return Reply(**self.cleaned_data)


class AnsweredForm(StudioForm):
    """That an enquiry was answered by other means."""

    nudge_on = DateField(label="Ask again on", required=False)


def _day(written: str) -> date | None:
    """Return the day that was written, where it is one."""
    try:
        day: date | None = DateField(required=False).clean(written)
    except ValidationError:
        return None
    return day
