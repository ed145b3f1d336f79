"""Call sheets: printed versions of what is planned for a booking."""

from __future__ import annotations

import hashlib
from typing import Final

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking
from studio.files.models import StoredFile
from studio.guards import expect, frozen


class CallSheet(models.Model):
    """One version: the crew's two pages and the client's one, never rewritten."""

    booking = models.ForeignKey(Booking, models.PROTECT, related_name="call_sheets")
    version = models.PositiveIntegerField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    content_hash = models.CharField(max_length=64)
    content = models.JSONField(default=dict, editable=False)
    sheet = models.ForeignKey(StoredFile, models.PROTECT, related_name="+")
    session_page = models.ForeignKey(StoredFile, models.PROTECT, related_name="+")
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-version"]
        constraints = [
            models.UniqueConstraint(
                name="call_sheet_version_once", fields=["booking", "version"]
            ),
        ]

    def __str__(self) -> str:
        return f"Call sheet {self.version} of booking {self.booking_id}"

    def occasion_for(self, address: str) -> str:
        """Return the word that keeps one address from getting one version twice."""
        digest = hashlib.sha256(address.lower().encode()).hexdigest()
        return f"{self.occasion_stem}{digest[:32]}"

    @property
    def keeps_words(self) -> bool:
        """Whether its words were kept, as those of the first versions were not."""
        return bool(self.content)

    @property
    def occasion_stem(self) -> str:
        """What the occasions of this version's messages begin with."""
        return f"call sheet {self.pk} to "


class SheetReceiver(models.Model):
    """Somebody who gets a session's papers; the private page is kept by this row."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="sheet_receivers")
    address = models.EmailField()
    name = models.CharField(max_length=200)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="sheet_receiver_once", fields=["booking", "address"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, who gets the sheets of booking {self.booking_id}"


class SheetCopy(models.Model):
    """One version in one receiver's hands: when it was sent, when it was read."""

    sheet = models.ForeignKey(CallSheet, models.CASCADE, related_name="copies")
    receiver = models.ForeignKey(SheetReceiver, models.CASCADE, related_name="copies")
    sent_at = models.DateTimeField()
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="sheet_copy_once", fields=["sheet", "receiver"]
            ),
        ]

    def __str__(self) -> str:
        return f"Version {self.sheet_id} for receiver {self.receiver_id}"


_FROZEN: Final = (
    "booking_id",
    "version",
    "made_at",
    "content_hash",
    "sheet_id",
    "session_page_id",
)
_WHY: Final = "a call sheet that was made is never rewritten"
CALL_SHEET_GUARD: Final = frozen("planning_callsheet", columns=_FROZEN, why=_WHY)
"""What stood before a version kept its words; migrations still install it first."""

KEPT_SHEET_GUARD: Final = expect(
    frozen("planning_callsheet", columns=(*_FROZEN, "content"), why=_WHY)
)
