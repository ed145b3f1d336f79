"""Small builders: each makes one valid thing, and takes what a test cares about."""

from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

from jobs.bookings.models import Booking
from jobs.bookings.operations import BookingWish, propose_booking
from jobs.clients.models import Client, ClientKind
from jobs.jobs.models import Job
from jobs.jobs.operations import Enquiry, open_job
from jobs.kits.models import KitCategory, KitItem
from jobs.places.models import Place
from studio.people.models import Person
from studio.profile.models import StudioProfile

NOON = datetime(2026, 6, 21, 12, tzinfo=UTC)
PASSWORD = "a long pass phrase for tests"
_next = count(1)


def make_person(
    name: str = "Ada Vane", *, hats: str = "owner", **fields: Any
) -> Person:
    """Make somebody who signs in; `hats` names the parts, comma-separated."""
    worn = {f"is_{hat.strip()}": True for hat in hats.split(",")}
    username = f"{name.split(maxsplit=1)[0].lower()}{next(_next)}"
    return Person.objects.create_user(username, PASSWORD, name=name, **worn, **fields)


def make_profile(**fields: Any) -> StudioProfile:
    """Set the studio up, registered for tax, with a bank account."""
    profile = StudioProfile.load()
    values: dict[str, Any] = {
        "trading_name": "Vane Portraits",
        "owner_name": "Ada Vane",
        "address": "2 Quay Row\nSandhaven",
        "phone": "01632 960001",
        "email": "ada@vane.example",
        "public_address": "https://studio.example",
        "tax_registered": True,
        "tax_number": "GB 000 0000 00",
        "account_name": "Ada Vane",
        "sort_code": "00-00-00",
        "account_number": "00000000",
        "terms": "The plain terms of the studio.",
        "set_up_at": NOON,
    } | fields
    for name, value in values.items():
        setattr(profile, name, value)
    profile.save()
    return profile


def make_client(name: str = "Meyer Bakery", **fields: Any) -> Client:
    values: dict[str, Any] = {
        "kind": ClientKind.PERSON,
        "email": "meyer@example.org",
        "phone": "01632 960020",
        "created_at": NOON,
    } | fields
    return Client.objects.create(name=name, **values)


def make_place(name: str = "North beach", **fields: Any) -> Place:
    values: dict[str, Any] = {
        "latitude_deg": 54.47,
        "longitude_deg": -0.62,
        "time_zone": "Europe/London",
    } | fields
    return Place.objects.create(name=name, **values)


def make_item(
    name: str = "Tripod", category: KitCategory = KitCategory.SUPPORT, **fields: Any
) -> KitItem:
    return KitItem.objects.create(name=name, category=category, **fields)


def make_job(
    title: str = "Shop portraits",
    *,
    client: Client | None = None,
    by: Person | None = None,
) -> Job:
    return open_job(
        client=client or make_client(),
        enquiry=Enquiry(title=title),
        by=by or make_person(),
        at=NOON,
    )


def make_booking(
    *,
    job: Job | None = None,
    place: Place | None = None,
    starts_at: datetime = NOON + timedelta(days=10),
    hours: float = 2,
    people: tuple[Person, ...] = (),
    items: tuple[KitItem, ...] = (),
) -> Booking:
    job = job or make_job()
    wish = BookingWish(
        place=place or make_place(),
        starts_at=starts_at,
        ends_at=starts_at + timedelta(hours=hours),
        person_ids=tuple(person.pk for person in people),
        kit_item_ids=tuple(item.pk for item in items),
    )
    return propose_booking(job=job, wish=wish, by=job.owner, at=NOON)
