"""Items of kit to be ticked, a group for each category."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from django import forms
from django.db.models import Q

from jobs.kits.models import Kit, KitCategory, KitItem

PREFIX: Final = "items_"


def tick_group(label: str, choices: list[tuple[int, str]]) -> forms.Field:
    """Return a group of ticks that gives the keys of those that are set."""
    return forms.TypedMultipleChoiceField(
        label=label,
        choices=choices,
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )


def item_ticks(*, also: Q | None = None) -> dict[str, forms.Field]:
    """Return a group of ticks for each category of items in use, and `also` others."""
    wanted = Q(retired=False) | also if also else Q(retired=False)
    found: dict[str, list[tuple[int, str]]] = {}
    for item in KitItem.objects.filter(wanted).distinct().order_by("name", "pk"):
        found.setdefault(item.category, []).append((item.pk, item.name))
    return {
        field_of(category): tick_group(category.label, found[category.value])
        for category in KitCategory
        if category.value in found
    }


def kit_choices() -> list[tuple[int, str]]:
    """Return the whole kits to choose from: those that hold something in use."""
    some = Q(items__retired=False) | Q(alternatives__item__retired=False)
    kits = Kit.objects.filter(some).distinct().order_by("name")
    return list(kits.values_list("pk", "name"))


def field_of(category: str) -> str:
    """Return the name of the field in which a category's items are ticked."""
    return f"{PREFIX}{category.lower()}"


def ticked_items(cleaned: Mapping[str, Any]) -> set[int]:
    """Return the keys of all the items that are ticked."""
    return {
        item_id
        for name, value in cleaned.items()
        if name.startswith(PREFIX)
        for item_id in value
    }
