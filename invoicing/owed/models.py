"""Reminders that went out, promises to pay, and the rates for late business debts."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from invoicing.invoices.models import Invoice
from studio.mail.models import Message


class Reminder(models.Model):
    """A reminder that was shown, edited and sent."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="reminders")
    step = models.PositiveSmallIntegerField()
    message = models.OneToOneField(Message, models.PROTECT, related_name="+")
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["sent_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="reminder_step_once", fields=["invoice", "step"]
            ),
        ]

    def __str__(self) -> str:
        return f"Reminder {self.step} of {self.invoice}"


class Promise(models.Model):
    """What a client said about when they pay."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="promises")
    promised_on = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    noted_at = models.DateTimeField()
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["-noted_at", "-pk"]

    def __str__(self) -> str:
        return f"Promise for {self.promised_on}"


class LateRate(models.Model):
    """A yearly rate for late business debts, from a day on, as the studio enters it."""

    from_on = models.DateField(unique=True)
    basis_points = models.PositiveIntegerField()
    is_fixed = models.BooleanField(default=True)
    """Whether the rate of the due day holds for the whole debt."""

    class Meta:
        ordering = ["-from_on"]

    def __str__(self) -> str:
        return f"{self.basis_points / 100:g}% from {self.from_on}"


class LateBand(models.Model):
    """A fixed sum for a late business debt, from so much on."""

    least_minor = models.BigIntegerField(unique=True)
    sum_minor = models.BigIntegerField()

    class Meta:
        ordering = ["least_minor"]
        constraints = [
            models.CheckConstraint(
                name="late_band_is_a_sum",
                condition=Q(least_minor__gte=0, sum_minor__gt=0),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.sum_minor} from {self.least_minor}"
