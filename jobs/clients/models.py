"""The people and firms that the studio works for."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.urls import reverse

from jobs.searching import holding_number, holding_words


class ClientKind(models.TextChoices):
    """Whether a client is a person or an organisation; it sets how prices read."""

    PERSON = "PERSON", "Person or family"
    ORGANISATION = "ORGANISATION", "Organisation"


class ClientQuerySet(models.QuerySet["Client"]):
    """Narrow clients down."""

    def matching(self, words: str) -> Self:
        """Keep the clients whose name, contact, mail or phone holds the words."""
        if not words.strip():
            return self.all()
        named = holding_words(words, "name", "contact_name", "email")
        return self.filter(named | holding_number(words, "phone"))


ClientManager = models.Manager.from_queryset(ClientQuerySet)


class Client(models.Model):
    """A person, family or organisation that the studio works for."""

    kind = models.CharField(
        max_length=12, choices=ClientKind, default=ClientKind.PERSON
    )
    name = models.CharField(max_length=200)
    contact_name = models.CharField(max_length=200, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(max_length=400, blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    created_at = models.DateTimeField()

    objects = ClientManager()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the client's page."""
        return reverse("jobs:client", args=[self.pk])

    @property
    def addressee(self) -> str:
        """Whom to greet: the contact of an organisation, or the client."""
        return self.contact_name or self.name

    @property
    def sees_tax_inclusive_prices(self) -> bool:
        """Families see one price with the tax in it; organisations see it apart."""
        return self.kind == ClientKind.PERSON
