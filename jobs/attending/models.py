"""What the people of a session need, and the groups to photograph."""

from __future__ import annotations

from typing import Final

from django.db import models
from django.db.models import Q

from jobs.bookings.models import Attendee, Booking

OLDEST: Final = 120
CHILD_MONTHS: Final = 18 * 12
BABY_MONTHS: Final = 12  # common practice, no source: the first year


class AgeUnit(models.TextChoices):
    """How an age is counted."""

    YEARS = "YEARS", "years"
    MONTHS = "MONTHS", "months"


class Need(models.Model):
    """What one who comes told of themselves, all of it voluntary.

    Some of it touches health. It stands in a row of its own, which goes with the
    attendee, and no word of it is written to the journal, which keeps everything.
    """

    attendee = models.OneToOneField(
        Attendee, models.CASCADE, related_name="need", primary_key=True
    )
    household = models.CharField(max_length=80, blank=True)
    age = models.PositiveSmallIntegerField(null=True, blank=True)
    age_unit = models.CharField(max_length=6, choices=AgeUnit, default=AgeUnit.YEARS)
    naps = models.CharField(max_length=80, blank=True)
    wears_glasses = models.BooleanField(default=False)
    uses_wheelchair = models.BooleanField(default=False)
    flash_sensitive = models.BooleanField(default=False)
    not_shown = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="need_age_is_of_a_person",
                condition=Q(age__isnull=True) | Q(age__lte=OLDEST),
            ),
        ]

    def __str__(self) -> str:
        return f"What {self.attendee} told"


class SessionAnswers(models.Model):
    """What was told of a session as a whole."""

    booking = models.OneToOneField(
        Booking, models.CASCADE, related_name="answers", primary_key=True
    )
    dog_comes = models.BooleanField(default=False)
    guardian_name = models.CharField(max_length=200, blank=True)

    def __str__(self) -> str:
        return f"Answers for {self.booking}"


class GroupShot(models.Model):
    """One picture of several people, or of one, that must not be forgotten."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="group_shots")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    members = models.ManyToManyField(Attendee, related_name="group_shots", blank=True)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return self.name
