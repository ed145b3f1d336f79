"""Closed periods of the books."""

from __future__ import annotations

from typing import Final

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from studio.guards import expect, insert_only


class ClosedPeriod(models.Model):
    """A period whose figures were settled: frozen as they were when it was closed."""

    starts_on = models.DateField(unique=True)
    ends_on = models.DateField(unique=True)
    figures = models.JSONField()
    figures_hash = models.CharField(max_length=64)
    closed_at = models.DateTimeField()
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["-ends_on"]
        constraints = [
            models.CheckConstraint(
                name="period_ends_after_it_starts",
                condition=Q(ends_on__gte=F("starts_on")),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.starts_on} to {self.ends_on}"


WHY: Final = "a closed period is never reopened or rewritten"
CLOSED_GUARD: Final = expect(insert_only("invoicing_closedperiod", WHY))
