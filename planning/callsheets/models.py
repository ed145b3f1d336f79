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
    def occasion_stem(self) -> str:
        """What the occasions of this version's messages begin with."""
        return f"call sheet {self.pk} to "


CALL_SHEET_GUARD: Final = expect(
    frozen(
        "planning_callsheet",
        columns=(
            "booking_id",
            "version",
            "made_at",
            "content_hash",
            "sheet_id",
            "session_page_id",
        ),
        why="a call sheet that was made is never rewritten",
    )
)
