"""Which clients somebody may be who rings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.db.models import Q

from jobs.clients.models import Client
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
    sure = Q(pk__in=[])
    if phone:
        sure |= Q(phone=phone)
    if email:
        sure |= Q(email__iexact=email)
    alike = same_text(name, "name", "contact_name") if name else Q(pk__in=[])
    if len(name) >= SHORTEST_NAME:
        alike |= holding_words(name, "name", "contact_name")
    found = list(Client.objects.filter(sure)[:MOST_LIKELY])
    rest = Client.objects.filter(alike).exclude(pk__in=[one.pk for one in found])
    found += rest[: MOST_LIKELY - len(found)]
    return [likely_client(client) for client in found]


def likely_client(client: Client) -> LikelyClient:
    """Return a client with what tells them apart from others."""
    reach = [client.contact_name, phone_words(client.phone), client.email]
    since = f"in the book since {client.created_at:%B %Y}"
    return LikelyClient(
        pk=client.pk,
        name=client.name,
        detail=", ".join([*filter(None, reach), since]),
    )
