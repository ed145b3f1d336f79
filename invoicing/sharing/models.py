"""To whom the pack of a closed period was handed, and how often it was fetched."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from invoicing.periods.models import ClosedPeriod
from studio.links.models import PrivateLink
from studio.mail.models import Message


class PackShare(models.Model):
    """One reader's private link to the pack of one closed period."""

    period = models.ForeignKey(ClosedPeriod, models.PROTECT, related_name="shares")
    name = models.CharField(max_length=160)
    address = models.EmailField(blank=True)
    link = models.OneToOneField(
        PrivateLink, models.PROTECT, null=True, related_name="+"
    )
    message = models.OneToOneField(Message, models.PROTECT, null=True, related_name="+")
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    fetched = models.PositiveIntegerField(default=0)
    fetched_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"Pack of {self.period} for {self.name}"
