"""The forms of an item of kit and of a kit."""

from __future__ import annotations

from typing import Any, Final, cast

from crispy_forms.bootstrap import InlineCheckboxes
from crispy_forms.helper import FormHelper
from django import forms
from django.db.models import Q

from jobs.kits.figures import FIGURES, LOW_HIGH, OF_CATEGORY, Figure, names_of
from jobs.kits.models import Kit, KitCategory, KitItem
from jobs.kits.ticks import field_of, item_ticks, ticked_items
from studio.forms import StudioForm, group, page_helper, pair

ITS_OWN: Final = ("name", "serial", "bag", "shelf", "notes")


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

    def __init__(
        self,
        *args: Any,
        category: KitCategory,
        item: KitItem | None = None,
        **kwargs: Any,
    ) -> None:
        if item is not None:
            names = (*ITS_OWN, *FIGURES)
            kwargs["initial"] = {name: _shown(getattr(item, name)) for name in names}
        super().__init__(*args, **kwargs)
        self.category = category
        for name in names_of(category):
            self.fields[name] = _field(FIGURES[name])

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: the figures in pairs, under a legend."""
        figures = [pair(*names) for names in OF_CATEGORY.get(self.category, ())]
        parts = [group("What plans need to know", *figures)] if figures else []
        return page_helper("name", *parts, pair("bag", "shelf"), "serial", "notes")

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
        return {"category": self.category, **own, **figures}


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


def _shown(value: Any) -> Any:
    if isinstance(value, float) and value == round(value):
        return int(value)
    return value
