"""The people and firms that the studio works for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.clients.keys import name_key, phone_key
from studio.countries import country_name
from studio.finding.models import Findable, FindableWords
from studio.finding.words import Words

KEYS: Final = ("name_key", "phone_key", "mail_key")


class ClientKind(models.TextChoices):
    """Whether a client is a person or an organisation; it sets how prices read."""

    PERSON = "PERSON", "Person or family"
    ORGANISATION = "ORGANISATION", "Organisation"


class ClientQuerySet(models.QuerySet["Client"]):
    """Narrow clients down."""

    def standing(self) -> Self:
        """Keep the clients that were not merged into another."""
        return self.filter(merged_into__isnull=True)

    def matching(self, words: str) -> Self:
        """Keep the clients whose name, contact, mail or phone holds the words."""
        found = FindableWords.objects.leading_to(Client, words)
        return self.standing().filter(found)

    def family_of(self, client_id: int) -> Self:
        """Keep a client and those that were merged into it."""
        return self.filter(Q(pk=client_id) | Q(merged_into=client_id))


ClientManager = models.Manager.from_queryset(ClientQuerySet)


class Client(Findable):
    """A person, family or organisation that the studio works for."""

    kind = models.CharField(
        max_length=12, choices=ClientKind, default=ClientKind.PERSON
    )
    name = models.CharField(max_length=200)
    contact_name = models.CharField(max_length=200, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(max_length=400, blank=True)
    country = models.CharField(max_length=2, blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    created_at = models.DateTimeField()
    name_key = models.CharField(max_length=400, editable=False, db_index=True)
    phone_key = models.CharField(max_length=40, editable=False, db_index=True)
    mail_key = models.CharField(max_length=254, editable=False, db_index=True)
    merged_into = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="merged"
    )

    objects = ClientManager()
    found_by = frozenset({"name", "contact_name", "email", "phone"})
    is_rung = True

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="client_is_not_merged_into_itself",
                condition=Q(merged_into__isnull=True) | ~Q(merged_into=F("pk")),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def save(
        self, *args: Any, update_fields: Iterable[str] | None = None, **kwargs: Any
    ) -> None:
        """Keep the client with the keys that tell whether another is the same."""
        self.set_keys()
        if update_fields is not None:
            update_fields = {*update_fields, *KEYS}
        super().save(*args, update_fields=update_fields, **kwargs)
        if update_fields is None or update_fields & {"name", "contact_name"}:
            FindableWords.objects.rename(self.pk, self.known_as)

    def words(self) -> Words:
        """Return what the client is found by."""
        return Words(
            own=(self.email,),
            phone=self.phone,
            whose=self.known_as,
            whose_id=self.pk,
            at=self.created_at,
        )

    @property
    def known_as(self) -> tuple[str, ...]:
        """The names that the client and all of theirs are found by."""
        return (self.name, self.contact_name)

    def get_absolute_url(self) -> str:
        """Return the client's page."""
        return reverse("jobs:client", args=[self.pk])

    def set_keys(self) -> None:
        """Work out how the client is found again, however it is written."""
        self.name_key = name_key(self.name)
        self.phone_key = phone_key(self.phone)
        self.mail_key = self.email.strip().casefold()

    @property
    def kept_id(self) -> int:
        """Who the client is now: itself, or the one that it was merged into."""
        return self.merged_into_id or self.pk

    @property
    def addressee(self) -> str:
        """Whom to greet: the contact of an organisation, or the client."""
        return self.contact_name or self.name

    @property
    def country_words(self) -> str:
        """Where the client is established, in English; nothing if nobody said."""
        return country_name(self.country)

    @property
    def sees_tax_inclusive_prices(self) -> bool:
        """Families see one price with the tax in it; organisations see it apart."""
        return self.kind == ClientKind.PERSON


class Contact(Findable):
    """Somebody at a client's, besides the one who is greeted and rung first."""

    client = models.ForeignKey(Client, models.CASCADE, related_name="contacts")
    name = models.CharField(max_length=200)
    role = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)

    found_by = frozenset({"client", "name", "phone", "email"})
    leads_to = Client
    found_with = ("client",)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name

    def words(self) -> Words:
        """Return what the contact is found by; it leads to the client."""
        return Words(
            own=(self.name, self.email),
            phone=self.phone,
            whose=self.client.known_as,
            whose_id=self.client_id,
            at=self.client.created_at,
            leads_to=self.client_id,
        )


class ClientMerge(models.Model):
    """Two clients that were found to be one, and what it takes to undo that.

    `before` and `filled` hold the kept client's facts that the merge filled in; `moved`
    names the rows that changed hands, by model.
    """

    kept = models.ForeignKey(Client, models.PROTECT, related_name="merges")
    gone = models.ForeignKey(Client, models.PROTECT, related_name="+")
    merged_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    before = models.JSONField(default=dict)
    filled = models.JSONField(default=dict)
    moved = models.JSONField(default=dict)
    journal_sequence = models.BigIntegerField()
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-merged_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.gone_id} into {self.kept_id}"
