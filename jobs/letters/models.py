"""How the owner words a letter, and whether it goes by itself."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from jobs.bookings.models import Booking
from jobs.letters.kinds import LetterKind
from studio.mail.models import Message


class LetterWording(models.Model):
    """The owner's own words for one kind of letter."""

    kind = models.CharField(max_length=12, choices=LetterKind, unique=True)
    subject = models.CharField(max_length=200)
    body = models.TextField(max_length=6000)
    by_itself = models.BooleanField(default=False)
    is_off = models.BooleanField(default=False)

    def __str__(self) -> str:
        return str(self.get_kind_display())


class SentLetter(models.Model):
    """A letter of a session that went into the outbox, or was left out."""

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="letters")
    kind = models.CharField(max_length=12, choices=LetterKind)
    message = models.OneToOneField(Message, models.PROTECT, null=True, related_name="+")
    """None: somebody said that this one is not sent."""
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )

    class Meta:
        ordering = ["sent_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="letter_once_a_session", fields=["booking", "kind"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of booking {self.booking_id}"
