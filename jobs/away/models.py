"""Time that is not to be booked: holidays, and whatever else keeps people away."""

from __future__ import annotations

from datetime import timedelta
from typing import Final, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from studio.timespan import TimeSpan

LONGEST: Final = timedelta(days=366)


class BlockedTimeQuerySet(models.QuerySet["BlockedTime"]):
    """Narrow blocked times down."""

    def during(self, span: TimeSpan) -> Self:
        """Keep those that share an instant with `span`."""
        return self.filter(
            starts_at__lt=span.end,
            starts_at__gt=span.start - LONGEST,
            ends_at__gt=span.start,
        )


BlockedTimeManager = models.Manager.from_queryset(BlockedTimeQuerySet)


class BlockedTime(models.Model):
    """Time in which a person, or the whole studio where none is named, is not free."""

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="blocked_times",
    )
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    why = models.CharField(max_length=120)

    objects = BlockedTimeManager()

    class Meta:
        ordering = ["starts_at", "pk"]
        indexes = [models.Index(fields=["starts_at", "ends_at"])]
        constraints = [
            models.CheckConstraint(
                name="blocked_time_ends_after_it_starts",
                condition=Q(ends_at__gt=F("starts_at")),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.who}: {self.why}"

    @property
    def who(self) -> str:
        """Whose time it is."""
        return str(self.person) if self.person else "The whole studio"

    @property
    def span(self) -> TimeSpan:
        """The time that is blocked."""
        return TimeSpan(self.starts_at, self.ends_at)
