"""Lists of clients, kit and sessions that can be brought in."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from jobs.bookings.listed import ListedSessionForm, add_session, standing_session
from jobs.bookings.models import Booking
from jobs.clients.forms import ClientForm
from jobs.clients.models import Client, ClientKind
from jobs.clients.operations import add_client
from jobs.clients.queries import same_client
from jobs.kits.figures import FIGURES
from jobs.kits.forms import KitItemForm
from jobs.kits.models import KitCategory, KitItem
from jobs.kits.operations import add_item
from studio.imports.kinds import Column, Kind, add_kind
from studio.people.models import Person

NAME: Final = Column(
    name="name",
    label="Name",
    words=("client", "customer", "full name", "who", "company"),
    example="Thorn family",
    required=True,
)
PHONE: Final = Column(
    name="phone",
    label="Phone",
    words=("mobile", "telephone", "tel"),
    example="01632 960123",
)
EMAIL: Final = Column(
    name="email", label="E-mail", words=("email", "mail"), example="thorn@home.example"
)
NOTES: Final = Column(
    name="notes", label="Notes", words=("note", "remark", "comment"), example=""
)
CLIENT_KINDS: Final = {
    **dict.fromkeys(("person", "private", "family"), ClientKind.PERSON.value),
    **dict.fromkeys(
        ("organisation", "organization", "company", "business", "firm"),
        ClientKind.ORGANISATION.value,
    ),
}
CLIENT: Final = (
    NAME,
    Column(
        name="kind",
        label="Person or organisation",
        words=("kind", "type"),
        example="person",
        choices=CLIENT_KINDS,
        default=ClientKind.PERSON.value,
    ),
    Column(name="contact_name", label="Contact", words=("attention",), example=""),
    PHONE,
    EMAIL,
    Column(
        name="address", label="Address", words=("street",), example="3 Kiln Row, Hale"
    ),
    Column(
        name="tax_number",
        label="Tax number",
        words=("vat number", "vat no", "tax id"),
        example="",
    ),
    NOTES,
)
CATEGORIES: Final = {
    word.lower(): category.value
    for category in KitCategory
    for word in (category.value, category.label)
}
KIT: Final = (
    Column(
        name="name",
        label="Name",
        words=("item", "model", "description"),
        example="Flash A",
        required=True,
    ),
    Column(
        name="category",
        label="Category",
        words=("kind", "type", "group"),
        example="flash",
        choices=CATEGORIES,
        default=KitCategory.OTHER.value,
    ),
    Column(
        name="serial", label="Serial number", words=("serial", "s/n"), example="F-0042"
    ),
    Column(
        name="value", label="Value", words=("worth", "price", "cost"), example="480.00"
    ),
    Column(
        name="bought_on",
        label="Bought on",
        words=("bought", "purchased", "date of purchase"),
        example="2025-03-14",
        is_day=True,
    ),
    Column(
        name="service_due_on",
        label="Service due",
        words=("service",),
        example="",
        is_day=True,
    ),
    Column(name="bag", label="Bag", words=("case",), example="Lighting bag"),
    Column(name="shelf", label="Shelf", words=("storage", "kept"), example="Shelf 2"),
    NOTES,
    *(
        Column(name=name, label=figure.label, words=(name,), example="")
        for name, figure in FIGURES.items()
    ),
)
STATES: Final = {
    **dict.fromkeys(("confirmed", "booked", "firm"), ListedSessionForm.CONFIRMED),
    **dict.fromkeys(("pencilled", "penciled", "held"), ListedSessionForm.PENCILLED),
    **dict.fromkeys(("done", "completed", "past"), ListedSessionForm.DONE),
}
SESSIONS: Final = (
    NAME,
    PHONE,
    EMAIL,
    Column(
        name="title",
        label="What",
        words=("job", "title", "session", "shoot", "subject"),
        example="Family by the river",
        required=True,
    ),
    Column(
        name="day", label="Day", words=("date",), example="2027-05-08", required=True,
        is_day=True,
    ),
    Column(
        name="starts",
        label="From",
        words=("start", "begins", "time"),
        example="15:00",
        required=True,
    ),
    Column(
        name="ends", label="To", words=("end", "until"), example="16:30", required=True
    ),
    Column(
        name="place", label="Place", words=("location", "where", "venue"),
        example="The studio", required=True,
    ),
    Column(
        name="state",
        label="How firm",
        words=("status", "state"),
        example="confirmed",
        choices=STATES,
        default=ListedSessionForm.CONFIRMED,
    ),
)  # fmt: skip


def _add_client(form: ClientForm, by: Person, at: datetime) -> Client:
    return add_client(details=form.details(), by=by, at=at)


def _standing_client(form: ClientForm) -> Client | None:
    data = form.cleaned_data
    return same_client(name=data["name"], phone=data["phone"], email=data["email"])


def _kit_form(cells: dict[str, str]) -> KitItemForm:
    return KitItemForm(cells, category=KitCategory(cells["category"]))


def _add_item(form: KitItemForm, by: Person, at: datetime) -> KitItem:
    return add_item(details=form.details(), by=by, at=at)


def _standing_item(form: KitItemForm) -> KitItem | None:
    data = form.cleaned_data
    alike = KitItem.objects.filter(name__iexact=data["name"], serial=data["serial"])
    return alike.first()


def _add_session(form: ListedSessionForm, by: Person, at: datetime) -> Booking:
    return add_session(session=form.session(), by=by, at=at)


def _standing_session(form: ListedSessionForm) -> Booking | None:
    return standing_session(form.session())


add_kind(
    Kind(
        slug="clients",
        name="Clients",
        one="client",
        hint="Who is in the book already, by number, mail or name, stays as it is",
        columns=CLIENT,
        form=ClientForm,
        known=_standing_client,
        add=_add_client,
        page="jobs:clients",
    )
)
add_kind(
    Kind(
        slug="kit",
        name="Kit",
        one="item",
        hint="What has the name and serial number of an item stays as it is",
        columns=KIT,
        form=_kit_form,
        known=_standing_item,
        add=_add_item,
        page="jobs:kit",
    )
)
add_kind(
    Kind(
        slug="sessions",
        name="Sessions",
        one="session",
        hint="Each with its job and you as its crew, at a place that is in the book",
        columns=SESSIONS,
        form=ListedSessionForm,
        known=_standing_session,
        add=_add_session,
        page="jobs:diary",
    )
)
