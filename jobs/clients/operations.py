"""Everything that can be done to a client."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from jobs.clients.models import Client, ClientKind, Contact
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientDetails:
    """What is known of a client; a name is enough while on the phone."""

    name: str
    kind: ClientKind = ClientKind.PERSON
    contact_name: str = ""
    email: str = ""
    phone: str = ""
    address: str = ""
    country: str = ""
    tax_number: str = ""
    notes: str = ""


@transaction.atomic
def add_client(*, details: ClientDetails, by: Person | None, at: datetime) -> Client:
    """Take a client into the book; nobody of the studio does where they write."""
    client = Client(created_at=at)
    _apply(client, details)
    client.save()
    kind = None if by else ActorKind.CLIENT
    record(client, "added", by=by, at=at, kind=kind)
    return client


@transaction.atomic
def change_client(
    *, client_id: int, details: ClientDetails, by: Person, at: datetime
) -> Client:
    """Change what is known of a client. Issued papers keep what they said."""
    client = Client.objects.select_for_update().get(pk=client_id)
    _apply(client, details)
    client.save()
    record(client, "changed", by=by, at=at)
    return client


@transaction.atomic
def fill_in_client(
    *, client_id: int, details: ClientDetails, by: Person, at: datetime
) -> Client:
    """Add a phone number or mail address that a client lacks; nothing is replaced."""
    client = Client.objects.select_for_update().get(pk=client_id)
    missing = [
        name
        for name in ("phone", "email")
        if getattr(details, name) and not getattr(client, name)
    ]
    if missing:
        for name in missing:
            setattr(client, name, getattr(details, name))
        client.save(update_fields=missing)
        record(client, "changed", by=by, at=at)
    return client


@transaction.atomic
def list_contacts(
    *, client_id: int, contacts: Iterable[Contact], by: Person, at: datetime
) -> Client:
    """Set who else is there at a client's, in the order given."""
    client = Client.objects.select_for_update().get(pk=client_id)
    for gone in client.contacts.all():
        gone.delete()
    for contact in contacts:
        contact.pk = None
        contact.client = client
        contact.save(force_insert=True)
    record(client, "contacts listed", by=by, at=at)
    return client


def _apply(client: Client, details: ClientDetails) -> None:
    for name in ClientDetails.__dataclass_fields__:
        setattr(client, name, getattr(details, name))
