"""Messages: the outbox. Operations write rows; a sweep sends them."""

from datetime import datetime, timedelta
from typing import Final, Self

from django.db import models
from django.db.models import F, Q

from studio.files.models import StoredFile
from studio.links.models import PrivateLink
from studio.mail.states import MessageState

CLAIM_LASTS: Final = timedelta(minutes=5)


class MessageQuerySet(models.QuerySet["Message"]):
    """Narrow messages down."""

    def waiting(self, *, at: datetime) -> Self:
        """Keep those whose turn it is: documents there, and no wait left."""
        return self.filter(
            state=MessageState.WAITING, documents_wanted=0, not_before__lte=at
        )

    def about(self, row: models.Model) -> Self:
        """Keep the messages about one row."""
        return self.filter(object_type=row._meta.label_lower, object_id=row.pk)

    def in_trouble(self) -> Self:
        """Keep those that were refused, or that nobody knows were sent."""
        return self.filter(state__in=[MessageState.FAILED, MessageState.UNKNOWN])

    def claim(self, message_id: int, *, at: datetime) -> bool:
        """Take up one waiting message; False if it is not waiting, or no longer."""
        waiting = self.waiting(at=at).filter(pk=message_id)
        return (
            waiting.update(
                state=MessageState.CLAIMED,
                claimed_at=at,
                spoken_at=None,
                attempts=F("attempts") + 1,
            )
            == 1
        )

    def lapsed(self, *, at: datetime) -> Self:
        """Keep the claimed messages that nobody finished."""
        return self.filter(state=MessageState.CLAIMED, claimed_at__lt=at - CLAIM_LASTS)


MessageManager = models.Manager.from_queryset(MessageQuerySet)


class Message(models.Model):
    """One e-mail to one address, once for each occasion.

    `body` may hold `{link}`: the private link's address, put in at sending, so that
    the row never stores what opens the page.
    """

    occasion = models.CharField(max_length=120, unique=True)
    address = models.EmailField()
    recipient_name = models.CharField(max_length=160, blank=True)
    subject = models.CharField(max_length=200)
    body = models.TextField()
    link = models.ForeignKey(
        PrivateLink, models.PROTECT, null=True, blank=True, related_name="messages"
    )
    files = models.ManyToManyField(StoredFile, blank=True, related_name="messages")
    documents_wanted = models.PositiveSmallIntegerField(default=0)
    object_type = models.CharField(max_length=60)
    object_id = models.BigIntegerField()
    message_id = models.CharField(max_length=160)
    written_at = models.DateTimeField()
    not_before = models.DateTimeField()
    state = models.CharField(
        max_length=8, choices=MessageState, default=MessageState.WAITING
    )
    claimed_at = models.DateTimeField(null=True, blank=True)
    spoken_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    fault = models.CharField(max_length=300, blank=True)

    objects = MessageManager()

    class Meta:
        ordering = ["-written_at", "-pk"]
        indexes = [
            models.Index(fields=["state", "not_before"]),
            models.Index(fields=["object_type", "object_id"]),
        ]
        constraints = [
            models.CheckConstraint(
                name="message_sent_has_its_time",
                condition=~Q(state=MessageState.SENT) | Q(sent_at__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.occasion} to {self.address}"
