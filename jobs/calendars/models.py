"""Calendars: each person's feed, invitations, and busy times read from elsewhere."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from jobs.bookings.models import Booking
from studio.timespan import TimeSpan

LONGEST_BUSY: Final = timedelta(days=14)
"""A longer time is kept in pieces; it bounds the search for overlaps."""


class Detail(models.TextChoices):
    """How much a feed tells whoever holds its address."""

    TIMES = "TIMES", "Times and first names"
    PLACES = "PLACES", "Also the job and the place"


class CalendarFeed(models.Model):
    """A person's sessions, to be fetched by a calendar program under a link."""

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="calendar_feed"
    )
    detail = models.CharField(max_length=8, choices=Detail, default=Detail.TIMES)
    alarm_minutes = models.PositiveIntegerField(null=True, blank=True, default=60)
    opened_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"Feed of {self.person}"


class FeedEntry(models.Model):
    """One session in one person's feed, as it was last told.

    `told` holds what the entry says, so that an entry that is over can still be told
    as cancelled; `sequence` counts its changes (RFC 5545, 3.8.7.4).
    """

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="feed_entries"
    )
    booking = models.ForeignKey(Booking, models.CASCADE, related_name="feed_entries")
    told = models.JSONField()
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField()
    ends_at = models.DateTimeField(db_index=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="feed_entry_once_a_session", fields=["person", "booking"]
            ),
        ]

    def __str__(self) -> str:
        return f"Booking {self.booking_id} for {self.person_id}"


class Invitation(models.Model):
    """A session sent to one address as an invitation, as it was last sent."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="invitations")
    address = models.EmailField()
    name = models.CharField(max_length=160, blank=True)
    told = models.JSONField()
    sequence = models.PositiveIntegerField(default=0)
    sent_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["name", "address", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="invitation_once_an_address", fields=["booking", "address"]
            ),
        ]

    def __str__(self) -> str:
        return f"Invitation of {self.address} to booking {self.booking_id}"


class BusyCalendarQuerySet(models.QuerySet["BusyCalendar"]):
    """Narrow calendars down."""

    def due(self, *, at: datetime) -> Self:
        """Keep the calendars behind an address whose turn it is to be read."""
        return self.exclude(address="").filter(
            person__is_active=True, read_next_at__lte=at
        )


BusyCalendarManager = models.Manager.from_queryset(BusyCalendarQuerySet)


class BusyCalendar(models.Model):
    """A calendar of somebody's own, read for when they are busy; nothing else of it.

    One with an `address` is read again and again, one from a file once.
    """

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="busy_calendars"
    )
    name = models.CharField(max_length=80)
    address = models.CharField(max_length=1000, blank=True)
    read_at = models.DateTimeField(null=True, blank=True)
    read_next_at = models.DateTimeField()
    fault = models.CharField(max_length=300, blank=True)
    failing_since = models.DateTimeField(null=True, blank=True)

    objects = BusyCalendarManager()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class BusyTimeQuerySet(models.QuerySet["BusyTime"]):
    """Narrow busy times down."""

    def during(self, span: TimeSpan) -> Self:
        """Keep the busy times that share an instant with `span`."""
        return self.filter(
            starts_at__lt=span.end,
            starts_at__gte=span.start - LONGEST_BUSY,
            ends_at__gt=span.start,
        )


BusyTimeManager = models.Manager.from_queryset(BusyTimeQuerySet)


class BusyTime(models.Model):
    """When a person is busy with something that is none of the studio's business."""

    calendar = models.ForeignKey(BusyCalendar, models.CASCADE, related_name="times")
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="busy_times"
    )
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()

    objects = BusyTimeManager()

    class Meta:
        ordering = ["starts_at", "pk"]
        indexes = [models.Index(fields=["person", "starts_at"])]
        constraints = [
            models.CheckConstraint(
                name="busy_time_ends_after_it_starts",
                condition=Q(ends_at__gt=F("starts_at")),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person_id} busy from {self.starts_at:%Y-%m-%d %H:%M}"
