"""Which clients somebody may be who rings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.db.models import Q, QuerySet

from jobs.clients.keys import name_key, phone_key
from jobs.clients.models import Client, Contact
from jobs.searching import holding_words, same_text
from studio.wording import phone_words

MOST_LIKELY: Final = 4
SHORTEST_NAME: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class LikelyClient:
    """A client whom a caller may be, and what tells them apart from others."""

    pk: int
    name: str
    detail: str


def likely_clients(*, name: str, phone: str, email: str) -> list[LikelyClient]:
    """Return the clients of a caller's number, address or name, the surest first."""
    alike = same_text(name, "name", "contact_name") if name else Q(pk__in=[])
    if len(name) >= SHORTEST_NAME:
        alike |= holding_words(name, "name", "contact_name")
    standing = Client.objects.standing()
    sure = _same_keys(name="", phone=phone, email=email)
    sure |= Q(pk__in=_through_contacts(phone, email))
    named = _same_keys(name=name, phone="", email="")
    found = list(standing.filter(sure)[:MOST_LIKELY])
    rest = standing.filter(alike | named).exclude(pk__in=[one.pk for one in found])
    found += rest[: MOST_LIKELY - len(found)]
    return [likely_client(client) for client in found]


def doubles_of(client: Client) -> list[LikelyClient]:
    """Return the clients that have a client's number, mail or whole name. One query."""
    same = _same_keys(name=client.name, phone=client.phone, email=client.email)
    others = Client.objects.standing().filter(same).exclude(pk=client.pk)
    return [likely_client(one) for one in others[:MOST_LIKELY]]


def same_client(*, name: str, phone: str, email: str) -> Client | None:
    """Return who is in the book with this number or mail, or else with this name.

    A name alone is not enough where number or mail tell two people apart.
    """
    standing = Client.objects.standing().order_by("pk")
    if sure := standing.filter(_same_keys(name="", phone=phone, email=email)).first():
        return sure
    for one in standing.filter(_same_keys(name=name, phone="", email="")):
        if not (phone and one.phone) and not (email and one.email):
            return one
    return None


def _through_contacts(phone: str, email: str) -> QuerySet[Contact, int]:
    """Return whose contacts have a number or an address."""
    reached = Q(pk__in=[])
    if phone:
        reached |= Q(phone=phone)
    if email:
        reached |= Q(email__iexact=email)
    return Contact.objects.filter(reached).values_list("client", flat=True)


def _same_keys(*, name: str, phone: str, email: str) -> Q:
    condition = Q(pk__in=[])
    for field, key in (
        ("name_key", name_key(name)),
        ("phone_key", phone_key(phone)),
        ("mail_key", email.strip().casefold()),
    ):
        if key:
            condition |= Q(**{field: key})
    return condition


def likely_client(client: Client) -> LikelyClient:
    """Return a client with what tells them apart from others."""
    reach = [client.contact_name, phone_words(client.phone), client.email]
    since = f"in the book since {client.created_at:%B %Y}"
    return LikelyClient(
        pk=client.pk,
        name=client.name,
        detail=", ".join([*filter(None, reach), since]),
    )
