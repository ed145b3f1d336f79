"""Slot days: one session with many sittings, each with a time and a job of its own."""

from __future__ import annotations

from datetime import datetime
from typing import Self

from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.places.models import Place
from studio.money import Money
from studio.timespan import TimeSpan


class SlotDay(models.Model):
    """What a session offers in sittings. Place, people and kit are the session's."""

    booking = models.OneToOneField(Booking, models.PROTECT, related_name="slot_day")
    title = models.CharField(max_length=120)
    words = models.TextField(max_length=1200, blank=True)
    price_minor = models.PositiveBigIntegerField(null=True, blank=True)
    currency = models.CharField(max_length=3)
    is_open = models.BooleanField(default=False)
    closes_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        """Return the page of the day, for the studio."""
        return reverse("jobs:slot_day", args=[self.booking_id])

    @property
    def takes_people(self) -> bool:
        """Whether its page gives times out: open, and its session holds its things."""
        return self.is_open and self.booking.is_holding

    @property
    def local_close(self) -> datetime:
        """Until when a time can be chosen, by the clock of the place."""
        return self.closes_at.astimezone(self.booking.place.zone)

    @property
    def price(self) -> Money | None:
        """What one sitting costs; None where that is agreed otherwise."""
        if self.price_minor is None:
            return None
        return Money.from_minor(self.price_minor, self.currency)


class SittingQuerySet(models.QuerySet["Sitting"]):
    """Narrow sittings down."""

    def free(self) -> Self:
        """Keep the times that nobody has."""
        return self.filter(job__isnull=True, is_blocked=False)

    def taken(self) -> Self:
        """Keep the times that somebody has."""
        return self.filter(job__isnull=False)


SittingManager = models.Manager.from_queryset(SittingQuerySet)


class Sitting(models.Model):
    """One time of a slot day: free, kept back, or somebody's, with their job."""

    slot_day = models.ForeignKey(SlotDay, models.CASCADE, related_name="sittings")
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    is_blocked = models.BooleanField(default=False)
    job = models.OneToOneField(
        Job, models.PROTECT, null=True, blank=True, related_name="sitting"
    )
    note = models.CharField(max_length=300, blank=True)

    objects = SittingManager()

    class Meta:
        ordering = ["starts_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="sitting_once_a_time", fields=["slot_day", "starts_at"]
            ),
            models.CheckConstraint(
                name="sitting_ends_after_it_starts",
                condition=Q(ends_at__gt=F("starts_at")),
            ),
            models.CheckConstraint(
                name="sitting_kept_back_is_nobodys",
                condition=Q(is_blocked=False) | Q(job__isnull=True),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.slot_day}, {self.local_start:%H:%M}"

    @property
    def span(self) -> TimeSpan:
        """From when to when it is."""
        return TimeSpan(self.starts_at, self.ends_at)

    @property
    def minutes(self) -> int:
        """How long it is."""
        return round(self.span.duration.total_seconds() / 60)

    @property
    def place(self) -> Place:
        """Where it is: at the place of the day's session."""
        return self.slot_day.booking.place

    @property
    def stands(self) -> bool:
        """Whether the day's session was not called off."""
        return self.slot_day.booking.status != BookingStatus.CANCELLED

    @property
    def local_start(self) -> datetime:
        """Its start by the clock of the place."""
        return self.starts_at.astimezone(self.place.zone)

    @property
    def local_end(self) -> datetime:
        """Its end by the clock of the place."""
        return self.ends_at.astimezone(self.place.zone)
