"""The price list, which can be brought in."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from invoicing.prices.forms import PriceForm
from invoicing.prices.models import PriceItem
from invoicing.prices.operations import add_price
from studio.imports.kinds import YES_OR_NO, Column, Kind, add_kind
from studio.people.models import Person
from studio.profile.models import StudioProfile

COLUMNS: Final = (
    Column(
        name="name",
        label="What",
        words=("item", "name", "product", "service"),
        example="Family session, 90 minutes",
        required=True,
    ),
    Column(
        name="detail",
        label="What is in it",
        words=("detail", "description", "includes"),
        example="Twenty pictures",
    ),
    Column(name="unit", label="Unit", words=("per",), example="session"),
    Column(
        name="price",
        label="Price",
        words=("amount", "rate", "fee"),
        example="320.00",
        required=True,
    ),
    Column(name="cost", label="Your own cost", words=("cost",), example="40.00"),
    Column(name="rate", label="Tax, %", words=("tax", "vat"), example=""),
    Column(
        name="is_extra",
        label="Offered as an extra",
        words=("extra", "option"),
        example="no",
        choices=YES_OR_NO,
    ),
)


def _form(cells: dict[str, str]) -> PriceForm:
    return PriceForm(
        {**cells, "rate": cells["rate"].rstrip("% ")}, profile=StudioProfile.load()
    )


def _add(form: PriceForm, by: Person, at: datetime) -> PriceItem:
    return add_price(details=form.details(), by=by, at=at)


def _standing(form: PriceForm) -> PriceItem | None:
    alike = PriceItem.objects.offered().filter(name__iexact=form.cleaned_data["name"])
    return alike.first()


add_kind(
    Kind(
        slug="prices",
        name="Price list",
        one="price",
        hint="What has the name of a price that is offered stays as it is",
        columns=COLUMNS,
        form=_form,
        known=_standing,
        add=_add,
        page="invoicing:prices",
    )
)
