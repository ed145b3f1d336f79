"""The journal: who did what to which row, append-only and chained."""

from typing import Final

from django.conf import settings
from django.db import models

from studio.guards import expect, insert_only


class ActorKind(models.TextChoices):
    """Who acted: a signed-in person, a client on a private page, or the tool."""

    PERSON = "PERSON", "Person"
    CLIENT = "CLIENT", "Client"
    TOOL = "TOOL", "Northsill"


class JournalEntry(models.Model):
    """One thing that happened to one row. Never changed, never deleted.

    `data` holds figures and codes, never names or free text of people, so that
    the chain can stand while a client's details are erased.
    """

    sequence = models.BigIntegerField(unique=True)
    at = models.DateTimeField(db_index=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    actor_kind = models.CharField(max_length=8, choices=ActorKind)
    verb = models.CharField(max_length=60)
    object_type = models.CharField(max_length=60)
    object_id = models.BigIntegerField()
    data = models.JSONField(default=dict)
    previous_hash = models.CharField(max_length=64)
    hash = models.CharField(max_length=64)

    class Meta:
        ordering = ["sequence"]
        indexes = [models.Index(fields=["object_type", "object_id"])]

    def __str__(self) -> str:
        return f"{self.sequence} {self.object_type} {self.object_id} {self.verb}"


class ChainHead(models.Model):
    """Where a chain stands; locking its row puts writers in line."""

    name = models.CharField(max_length=40, primary_key=True)
    sequence = models.BigIntegerField(default=0)
    hash = models.CharField(max_length=64, default="0" * 64)

    def __str__(self) -> str:
        return f"{self.name} at {self.sequence}"


JOURNAL_GUARD: Final = expect(
    insert_only("studio_journalentry", "the journal is only added to")
)
