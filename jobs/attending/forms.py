"""The questions about who is coming, and a group to photograph."""

from __future__ import annotations

from typing import Any, cast

from django import forms

from jobs.attending.company import Comer
from jobs.attending.models import OLDEST, AgeUnit
from jobs.attending.naps import NapError, nap_words, read_naps
from jobs.attending.queries import NEED_FIELDS, SESSION_FIELDS, age_words
from studio.forms import StudioForm, row_field, studio_lines

MOST_PEOPLE = 60
TICKS = {
    "wears_glasses": "glasses",
    "uses_wheelchair": "wheelchair",
    "flash_sensitive": "no flash",
    "not_shown": "not to be shown",
}


class SessionAnswersForm(StudioForm):
    """What is asked of a session as a whole."""

    dog_comes = forms.BooleanField(label="A dog comes along", required=False)
    guardian_name = forms.CharField(
        label="Who looks after the children on the day",
        required=False,
        max_length=200,
        help_text="A parent or guardian stays within sight of each child.",
    )

    def values(self) -> dict[str, Any]:
        """Return what was typed."""
        return {name: self.cleaned_data[name] for name in SESSION_FIELDS}


class PersonForm(StudioForm):
    """What is asked of one who comes. All but the name is voluntary."""

    row = row_field()
    name = forms.CharField(label="Name", max_length=200)
    household = forms.CharField(
        label="Family or household",
        required=False,
        max_length=80,
        help_text="So that we get each family together.",
    )
    age = forms.IntegerField(
        label="Age, if a child",
        required=False,
        min_value=0,
        max_value=OLDEST,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    age_unit = forms.ChoiceField(
        label="Counted in", choices=AgeUnit.choices, initial=AgeUnit.YEARS
    )
    naps = forms.CharField(
        label="Nap times",
        required=False,
        max_length=80,
        help_text="Like 12:30–14:00. We plan around them.",
    )
    wears_glasses = forms.BooleanField(
        label="Wears glasses",
        required=False,
        help_text="We place the light so that it does not mirror in them.",
    )
    uses_wheelchair = forms.BooleanField(
        label="Uses a wheelchair",
        required=False,
        help_text="We choose ground and ways that work.",
    )
    flash_sensitive = forms.BooleanField(
        label="Is sensitive to flashing light",
        required=False,
        help_text="Flashing light can trigger seizures. Tell us, and we plan without.",
    )
    not_shown = forms.BooleanField(
        label="Must not be shown in pictures that we publish",
        required=False,
        help_text="You get these pictures all the same; nobody else does.",
    )

    def clean_naps(self) -> str:
        """Return nap times as they are kept, or say how they are written."""
        try:
            return nap_words(read_naps(self.cleaned_data["naps"]))
        except NapError as refusal:
            raise forms.ValidationError(str(refusal)) from refusal

    def values(self) -> dict[str, Any]:
        """Return what was typed; without an age its unit says nothing."""
        given = {name: self.cleaned_data[name] for name in ("name", *NEED_FIELDS)}
        if given["age"] is None:
            given["age_unit"] = AgeUnit.YEARS.value
        return given

    @property
    def told_words(self) -> str:
        """What is told of the person, in a line."""
        age, unit = str(self["age"].value() or ""), str(self["age_unit"].value())
        is_read = age.isdecimal() and len(age) < 4 and unit in AgeUnit.values
        aged = age_words(int(age), unit) if is_read else age
        ticked = [words for name, words in TICKS.items() if self[name].value()]
        said = (self["household"].value(), aged, self["naps"].value(), *ticked)
        return ", ".join(str(one) for one in said if one)

    @property
    def is_open(self) -> bool:
        """Whether the boxes stand open: of somebody new, untold, or refused."""
        is_new = not self["row"].value()
        return bool(is_new or self.errors or not self.told_words)

    @property
    def more_is_open(self) -> bool:
        """Whether something is told, or said, among the questions folded away."""
        return any(self[name].value() or self[name].errors for name in TICKS)


PersonLines = studio_lines(PersonForm, extra=1, most=MOST_PEOPLE)


class GroupForm(StudioForm):
    """One group to photograph: what it is called, and who is in it."""

    name = forms.CharField(
        label="Group",
        max_length=120,
        help_text="As you would call it out: Gran with all.",
    )
    members = forms.MultipleChoiceField(
        label="Who is in it",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Once the group is photographed, they count as photographed too.",
    )

    def __init__(self, *args: Any, people: tuple[Comer, ...], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if people:
            members = cast("forms.MultipleChoiceField", self.fields["members"])
            members.choices = [(one.pk, one.name) for one in people]
        else:
            del self.fields["members"]

    def member_ids(self) -> list[int]:
        """Return who was ticked."""
        return [int(one) for one in self.cleaned_data.get("members", [])]
