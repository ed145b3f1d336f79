"""Money that moved between the business and its owner."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from invoicing.bank.models import BankLine
from studio.money import Money
from studio.wording import long_date, money_words


class MovedBy(models.TextChoices):
    """Through which money of the business it went."""

    BANK = "BANK", "Business bank account"
    CASH = "CASH", "Business cash"


class OwnerMoveQuerySet(models.QuerySet["OwnerMove"]):
    """Narrow moves down."""

    def standing(self) -> Self:
        """Keep the ones that were not taken back."""
        return self.filter(dropped_at__isnull=True)


OwnerMoveManager = models.Manager.from_queryset(OwnerMoveQuerySet)


class OwnerMove(models.Model):
    """Above zero the owner put money in, below zero they took it out."""

    moved_on = models.DateField()
    amount_minor = models.BigIntegerField()
    currency = models.CharField(max_length=3)
    moved_by = models.CharField(max_length=4, choices=MovedBy, default=MovedBy.BANK)
    note = models.CharField(max_length=200, blank=True)
    bank_line = models.OneToOneField(
        BankLine, models.PROTECT, null=True, blank=True, related_name="owner_move"
    )
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    form_key = models.CharField(max_length=64, unique=True)
    """One for each form shown, so that a form sent twice counts once."""
    dropped_at = models.DateTimeField(null=True, blank=True)
    dropped_because = models.CharField(max_length=200, blank=True)

    objects = OwnerMoveManager()

    class Meta:
        ordering = ["-moved_on", "-pk"]
        indexes = [models.Index(fields=["moved_on"])]
        constraints = [
            models.CheckConstraint(
                name="owner_move_moves_money", condition=~Q(amount_minor=0)
            ),
        ]

    def __str__(self) -> str:
        said = "put in" if self.amount_minor > 0 else "taken out"
        return f"{money_words(abs(self.amount))} {said} on {long_date(self.moved_on)}"

    def get_absolute_url(self) -> str:
        """Return the page of all moves."""
        return reverse("invoicing:drawings")

    @property
    def amount(self) -> Money:
        """What moved."""
        return Money.from_minor(self.amount_minor, self.currency)
