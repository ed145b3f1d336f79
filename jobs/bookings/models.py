"""Bookings: a session's time and place, and what it keeps for itself."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final, Self
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.away.models import BlockedTime
from jobs.bookings.guards import RESERVATION_GUARD
from jobs.bookings.states import HOLDING, BookingStatus
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.timespan import TimeSpan

LONGEST: Final = timedelta(days=14)
"""The longest session."""

LONGEST_RESERVATION: Final = LONGEST + timedelta(days=1)
"""A session with its setting up and packing; it bounds the search for overlaps."""

THE_STUDIO: Final = "studio"
"""What closed time of the whole studio holds, beside people and rooms."""

__all__ = ["RESERVATION_GUARD", "Attendee", "Booking", "Reservation"]


class BookingQuerySet(models.QuerySet["Booking"]):
    """Narrow bookings down; each method can be chained with the others."""

    def during(self, span: TimeSpan) -> Self:
        """Keep the bookings that share an instant with `span`."""
        return self.filter(
            starts_at__lt=span.end,
            starts_at__gt=span.start - LONGEST,
            ends_at__gt=span.start,
        )

    def holding(self) -> Self:
        """Keep the bookings that hold people, rooms and kit."""
        return self.filter(status__in=HOLDING)

    def chosen(self) -> Self:
        """Keep the bookings that are no spare date of another."""
        return self.filter(spare_of__isnull=True)

    def live(self) -> Self:
        """Keep the bookings that were not cancelled."""
        return self.exclude(status=BookingStatus.CANCELLED)

    def lapsed(self, *, at: datetime) -> Self:
        """Keep the pencilled bookings whose hold has run out."""
        return self.filter(status=BookingStatus.PENCILLED, held_until__lt=at)


BookingManager = models.Manager.from_queryset(BookingQuerySet)


class Booking(models.Model):
    """A session of a job, from `starts_at` up to `ends_at`, at one place."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="bookings")
    place = models.ForeignKey(Place, models.PROTECT, related_name="bookings")
    status = models.CharField(
        max_length=10, choices=BookingStatus, default=BookingStatus.PROPOSED
    )
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    setting_up_minutes = models.PositiveSmallIntegerField(default=30)
    packing_minutes = models.PositiveSmallIntegerField(default=0)
    held_until = models.DateTimeField(null=True, blank=True)
    confirmed_at = models.DateTimeField(null=True, blank=True)
    weather_decision = models.CharField(max_length=300, blank=True)
    decide_by = models.DateTimeField(null=True, blank=True)
    spare_of = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="spare"
    )
    version = models.PositiveIntegerField(default=1)
    uid = models.UUIDField(default=uuid4, unique=True, editable=False)

    objects = BookingManager()

    class Meta:
        ordering = ["starts_at", "pk"]
        indexes = [models.Index(fields=["starts_at", "ends_at"])]
        constraints = [
            models.CheckConstraint(
                name="booking_ends_after_it_starts",
                condition=Q(ends_at__gt=F("starts_at")),
            ),
            models.CheckConstraint(
                name="booking_sets_up_within_a_day",
                condition=Q(setting_up_minutes__lte=1440),
            ),
            models.CheckConstraint(
                name="booking_packs_within_a_day",
                condition=Q(packing_minutes__lte=1440),
            ),
            models.CheckConstraint(
                name="booking_confirmed_has_its_time",
                condition=~Q(status=BookingStatus.CONFIRMED)
                | Q(confirmed_at__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job.title}, {self.local_start:%d %b %Y %H:%M}"

    def get_absolute_url(self) -> str:
        """Return the page of the booking's job."""
        return reverse("jobs:job", args=[self.job_id])

    @property
    def span(self) -> TimeSpan:
        """The time of the session."""
        return TimeSpan(self.starts_at, self.ends_at)

    @property
    def on_site_at(self) -> datetime:
        """When the crew is on site."""
        return self.starts_at - timedelta(minutes=self.setting_up_minutes)

    @property
    def free_at(self) -> datetime:
        """When everything is packed, and people and kit may leave."""
        return self.ends_at + timedelta(minutes=self.packing_minutes)

    @property
    def local_start(self) -> datetime:
        """The start by the clock of the place."""
        return self.starts_at.astimezone(self.place.zone)

    @property
    def local_end(self) -> datetime:
        """The end by the clock of the place."""
        return self.ends_at.astimezone(self.place.zone)

    @property
    def is_holding(self) -> bool:
        """Whether people, rooms and kit are kept for it."""
        return self.status in HOLDING


class ReservationQuerySet(models.QuerySet["Reservation"]):
    """Narrow reservations down; each method can be chained with the others."""

    def during(self, span: TimeSpan) -> Self:
        """Keep the reservations that share an instant with `span`."""
        return self.filter(
            starts_at__lt=span.end,
            starts_at__gt=span.start - LONGEST_RESERVATION,
            ends_at__gt=span.start,
        )

    def named(self) -> Self:
        """Read with each all that names it: what is held, and for what or whom."""
        return self.select_related(
            "booking__job",
            "booking__place",
            "blocked__person",
            "person",
            "kit_item",
            "room",
        )


class Reservation(models.Model):
    """One person, room or item of kit that a booking wants, or that blocked time keeps.

    `resource` names what is held in one word ("person:3"), so that one rule of the
    database can refuse an overlap of any kind. Only rows with `holds` take part.
    """

    booking = models.ForeignKey(
        Booking, models.CASCADE, null=True, blank=True, related_name="reservations"
    )
    blocked = models.ForeignKey(
        BlockedTime, models.CASCADE, null=True, blank=True, related_name="reservations"
    )
    resource = models.CharField(max_length=40)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="reservations",
    )
    kit_item = models.ForeignKey(
        KitItem, models.PROTECT, null=True, blank=True, related_name="reservations"
    )
    room = models.ForeignKey(
        Place, models.PROTECT, null=True, blank=True, related_name="reservations"
    )
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    holds = models.BooleanField(default=False)

    objects = models.Manager.from_queryset(ReservationQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="reservation_once_a_booking", fields=["booking", "resource"]
            ),
            models.UniqueConstraint(
                name="reservation_once_a_block",
                fields=["blocked", "resource", "starts_at"],
            ),
            models.CheckConstraint(
                name="reservation_for_one_reason",
                condition=Q(booking__isnull=False, blocked__isnull=True)
                | Q(booking__isnull=True, blocked__isnull=False, holds=True),
            ),
            models.CheckConstraint(
                name="reservation_of_one_thing",
                condition=(
                    Q(
                        resource=THE_STUDIO,
                        blocked__isnull=False,
                        person__isnull=True,
                        kit_item__isnull=True,
                        room__isnull=True,
                    )
                    | Q(person__isnull=False, kit_item__isnull=True, room__isnull=True)
                    | Q(person__isnull=True, kit_item__isnull=False, room__isnull=True)
                    | Q(person__isnull=True, kit_item__isnull=True, room__isnull=False)
                ),
            ),
            models.CheckConstraint(
                name="reservation_ends_after_it_starts",
                condition=Q(ends_at__gt=F("starts_at")),
            ),
        ]
        indexes = [
            models.Index(fields=["resource", "starts_at"]),
            models.Index(fields=["starts_at"]),
        ]

    def __str__(self) -> str:
        return f"{self.resource} from {self.starts_at:%d %b %Y %H:%M}"

    @property
    def resource_name(self) -> str:
        """The name of the person, item or room."""
        return str(self.person or self.kit_item or self.room or "The studio")


class Part(models.TextChoices):
    """What somebody does at a session; it sets which paper they get."""

    CLIENT = "CLIENT", "Client"
    SITTER = "SITTER", "Sitter"
    CREW = "CREW", "Crew"
    PLACE = "PLACE", "Place contact"


class Attendee(models.Model):
    """Somebody who comes to a session, or is rung about it."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="attendees")
    name = models.CharField(max_length=200)
    part = models.CharField(max_length=8, choices=Part, default=Part.SITTER)
    role = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name
