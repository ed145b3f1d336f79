"""Private links: what a client opens without signing in."""

from datetime import datetime
from typing import Self

from django.db import models
from django.db.models import Q


class LinkPurpose(models.TextChoices):
    """What a private link opens."""

    QUOTE = "QUOTE", "Quote"
    SESSION = "SESSION", "Your session"
    CALL_SHEET = "CALL_SHEET", "Call sheet"
    CALENDAR = "CALENDAR", "Calendar feed"
    RELEASE = "RELEASE", "Release of pictures"
    SLOT_DAY = "SLOT_DAY", "Times of a day"
    SITTING = "SITTING", "A time of a day"
    BOOKS = "BOOKS", "Books of a period"


class PrivateLinkQuerySet(models.QuerySet["PrivateLink"]):
    """Narrow private links down."""

    def of(self, purpose: LinkPurpose, object_id: int) -> Self:
        """Keep the links that open one row."""
        return self.filter(purpose=purpose, object_id=object_id)

    def live(self, *, at: datetime) -> Self:
        """Keep the links that open something at that moment."""
        return self.filter(
            Q(expires_at__gt=at),
            created_at__lte=at,
            revoked_at__isnull=True,
        )


PrivateLinkManager = models.Manager.from_queryset(PrivateLinkQuerySet)


class PrivateLink(models.Model):
    """A link to one row in one version. Only the hash of its token is kept."""

    purpose = models.CharField(max_length=12, choices=LinkPurpose)
    object_id = models.BigIntegerField()
    version = models.PositiveIntegerField(default=1)
    nonce = models.CharField(max_length=64, unique=True)
    token_hash = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    replaced = models.BooleanField(default=False)
    first_used_at = models.DateTimeField(null=True, blank=True)
    last_used_at = models.DateTimeField(null=True, blank=True)
    uses = models.PositiveIntegerField(default=0)

    objects = PrivateLinkManager()

    class Meta:
        indexes = [models.Index(fields=["purpose", "object_id"])]

    def __str__(self) -> str:
        return f"{self.purpose} {self.object_id} version {self.version}"
