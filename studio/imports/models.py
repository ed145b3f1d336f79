"""A list that was sent and is not brought in yet."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class SentList(models.Model):
    """A file as it was sent: kept until it is brought in, left, or a day old."""

    kind = models.CharField(max_length=20)
    name = models.CharField(max_length=200)
    content = models.BinaryField()
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="+"
    )
    sent_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.name
