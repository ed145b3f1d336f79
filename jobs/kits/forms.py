"""The forms of an item of kit and of a kit."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby
from typing import Any, Final, cast

from crispy_forms.bootstrap import InlineCheckboxes
from crispy_forms.helper import FormHelper
from django import forms
from django.db.models import Q
from django.forms.formsets import BaseFormSet

from jobs.kits.figures import FIGURES, LOW_HIGH, OF_CATEGORY, Figure, names_of
from jobs.kits.models import Kit, KitCategory, KitItem
from jobs.kits.ticks import field_of, item_ticks, ticked_items
from studio.forms import (
    DateField,
    MoneyField,
    StudioForm,
    group,
    page_helper,
    pair,
    studio_lines,
)
from studio.forms.days import Lean
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.profile.money_form import CURRENCIES

ITS_OWN: Final = (
    *("name", "serial", "bag", "shelf", "notes"),
    *("bought_on", "service_due_on"),
)


class KitItemForm(StudioForm):
    """What is known of an item: its name, and the figures that fit its category."""

    name = forms.CharField(max_length=120)
    serial = forms.CharField(
        label="Serial number", required=False, max_length=80, help_text="For insurance"
    )
    bag = forms.CharField(
        label="Bag", required=False, max_length=80, help_text="Where it travels"
    )
    shelf = forms.CharField(
        label="Shelf", required=False, max_length=80, help_text="Where it is kept"
    )
    notes = forms.CharField(required=False, max_length=400)
    value = MoneyField(required=False, help_text="What a new one costs, for insurance")
    currency = forms.ChoiceField(choices=[], required=False)
    bought_on = DateField(required=False, lean=Lean.BACK)
    service_due_on = DateField(
        label="Service due", required=False, help_text="Today reminds a month before"
    )

    def __init__(
        self,
        *args: Any,
        category: KitCategory,
        item: KitItem | None = None,
        **kwargs: Any,
    ) -> None:
        if item is not None:
            names = (*ITS_OWN, *FIGURES)
            kwargs["initial"] = {
                **{name: _shown(getattr(item, name)) for name in names},
                "value": _value_of(item),
            }
        super().__init__(*args, **kwargs)
        self.category = category
        for name in names_of(category):
            self.fields[name] = _field(FIGURES[name])
        self._use_currency(item.currency if item else "")

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: the figures in pairs, under a legend."""
        figures = [pair(*names) for names in OF_CATEGORY.get(self.category, ())]
        parts = [group("What plans need to know", *figures)] if figures else []
        worth = group(
            "For insurance and service",
            *("serial", pair("value", "currency")),
            pair("bought_on", "service_due_on"),
        )
        return page_helper("name", *parts, pair("bag", "shelf"), worth, "notes")

    def clean(self) -> dict[str, Any]:
        """Refuse a range whose ends are the wrong way round."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for low, high in LOW_HIGH:
            least, most = cleaned.get(low), cleaned.get(high)
            if least is not None and most is not None and most < least:
                self.add_error(high, "This is less than the figure beside it.")
        if bool(cleaned.get("sensor_width_mm")) != bool(
            cleaned.get("sensor_height_mm")
        ):
            self.add_error("sensor_height_mm", "Give both sides of the sensor.")
        return cleaned

    def details(self) -> dict[str, Any]:
        """Return what was typed; figures of other categories are emptied."""
        figures = {name: self.cleaned_data.get(name) for name in FIGURES}
        own = {name: self.cleaned_data[name] for name in ITS_OWN}
        value = self.cleaned_data.get("value")
        money = None if value is None else Money(value, self.code)
        worth = {
            "value_minor": money.minor if money else None,
            "currency": money.currency if money else "",
        }
        return {"category": self.category, **own, **figures, **worth}

    def _use_currency(self, usual: str) -> None:
        """Read the value in the currency that was picked, or else the usual one."""
        usual = usual or StudioProfile.load().currency
        codes = dict.fromkeys((usual, *CURRENCIES))
        picked = self.data.get("currency", "")
        self.code = str(picked) if picked in codes else usual
        self.initial["currency"] = self.code
        cast("forms.ChoiceField", self.fields["currency"]).choices = [
            (code, code) for code in codes
        ]
        cast("MoneyField", self.fields["value"]).use_currency(self.code)


class KitForm(StudioForm):
    """A kit: items that go out together, under one name."""

    name = forms.CharField(max_length=120)

    def __init__(self, *args: Any, kit: Kit | None = None, **kwargs: Any) -> None:
        if kit is not None:
            kwargs["initial"] = _initial(kit)
        super().__init__(*args, **kwargs)
        self.kit = kit
        self.ticks = item_ticks(also=Q(kits=kit) if kit else None)
        self.fields.update(self.ticks)

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: items by category, side by side."""
        boxes = [InlineCheckboxes(name) for name in self.ticks]
        return page_helper("name", *([group("What is in it", *boxes)] if boxes else []))

    def clean_name(self) -> str:
        """Refuse a name that another kit has."""
        name = str(self.cleaned_data["name"])
        others = Kit.objects.filter(name__iexact=name)
        if self.kit:
            others = others.exclude(pk=self.kit.pk)
        if others.exists():
            raise forms.ValidationError("Another kit has this name.")
        return name

    def item_ids(self) -> set[int]:
        """Return the items that are ticked."""
        return ticked_items(self.cleaned_data)


class OneOfForm(StudioForm):
    """A position of a kit that one of several items fills, the first that is free."""

    first = forms.TypedChoiceField(
        label="Take", coerce=int, empty_value=None, required=False
    )
    second = forms.TypedChoiceField(
        label="or", coerce=int, empty_value=None, required=False
    )
    third = forms.TypedChoiceField(
        label="or else", coerce=int, empty_value=None, required=False
    )

    def __init__(
        self, *args: Any, offered: list[tuple[int, str]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        for name in ("first", "second", "third"):
            field = cast("forms.TypedChoiceField", self.fields[name])
            field.choices = [("", "–"), *offered]

    def clean(self) -> dict[str, Any]:
        """Ask for a second item: one alone always goes, so it is ticked above."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        given = self.item_ids(cleaned)
        if len(given) == 1:
            self.add_error("second", "Name another, or tick the one above.")
        if len(set(given)) < len(given):
            self.add_error("second", "The same item stands here twice.")
        return cleaned

    @staticmethod
    def item_ids(cleaned: dict[str, Any]) -> list[int]:
        """Return the items named, the one that is taken first in front."""
        names = ("first", "second", "third")
        return [cleaned[name] for name in names if cleaned.get(name)]


OneOfLines = studio_lines(OneOfForm, extra=1, most=20)
ONE_OF: Final = "one_of"


def one_of_lines(
    data: Mapping[str, Any] | None, *, kit: Kit | None = None
) -> BaseFormSet[OneOfForm]:
    """Return the positions of a kit that one of several items fills."""
    items = KitItem.objects.in_use().order_by("category", "name", "pk")
    listed: list[dict[str, int]] = []
    if kit is not None:
        rows = groupby(kit.alternatives.all(), key=lambda row: row.position)
        names = ("first", "second", "third")
        listed = [
            {name: row.item_id for name, row in zip(names, found, strict=False)}
            for _, found in rows
        ]
    return OneOfLines(
        data,
        prefix=ONE_OF,
        initial=listed,
        form_kwargs={"offered": [(item.pk, item.name) for item in items]},
    )


def positions_in(lines: BaseFormSet[OneOfForm]) -> list[list[int]]:
    """Return the items of each position of lines that are valid."""
    kept = [
        OneOfForm.item_ids(form.cleaned_data)
        for form in lines.forms
        if form.cleaned_data and not form.cleaned_data.get("DELETE")
    ]
    return [item_ids for item_ids in kept if item_ids]


def _initial(kit: Kit) -> dict[str, Any]:
    initial: dict[str, Any] = {"name": kit.name}
    for item in kit.items.all():
        initial.setdefault(field_of(item.category), []).append(item.pk)
    return initial


def _field(figure: Figure) -> forms.Field:
    attrs = {"step": "1" if figure.is_whole else "any", "class": "width-6"}
    usual: dict[str, Any] = {
        "label": figure.label,
        "required": False,
        "help_text": figure.hint,
        "widget": forms.NumberInput(attrs=attrs),
        "min_value": int(figure.least) if figure.is_whole else figure.least,
        "max_value": int(figure.most) if figure.is_whole else figure.most,
    }
    make: Any = forms.IntegerField if figure.is_whole else forms.FloatField
    field = make(**usual)
    field.before, field.after, field.unmarked = figure.before, figure.after, True
    return cast("forms.Field", field)


def _value_of(item: KitItem) -> Any:
    if item.value_minor is None:
        return None
    return Money.from_minor(item.value_minor, item.currency).amount


def _shown(value: Any) -> Any:
    if isinstance(value, float) and value == round(value):
        return int(value)
    return value
