"""Lines of the studio's account, and what each was found to be."""

from __future__ import annotations

from typing import Final, Self

from django.conf import settings
from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.urls import reverse

from invoicing.payments.models import Payment
from invoicing.purchases.models import Purchase
from studio.files.models import StoredFile
from studio.guards import expect, frozen
from studio.money import Money
from studio.wording import long_date, money_words


class BankStatement(models.Model):
    """A file of the bank that was read."""

    file = models.OneToOneField(StoredFile, models.PROTECT, related_name="+")
    name = models.CharField(max_length=200)
    read_at = models.DateTimeField()
    read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    def __str__(self) -> str:
        return self.name


class BankLineQuerySet(models.QuerySet["BankLine"]):
    """Narrow lines down."""

    def open(self) -> Self:
        """Keep the lines of which nobody has said what they are."""
        paid_out = PayoutPayment.objects.filter(line=OuterRef("pk"))
        return self.filter(
            ~Exists(paid_out),
            payment__isnull=True,
            purchase__isnull=True,
            owner_move__isnull=True,
            left_because="",
        )

    def asked(self) -> Self:
        """Keep the lines with a question that waits for its answer."""
        return self.exclude(question="").filter(answer="")


BankLineManager = models.Manager.from_queryset(BankLineQuerySet)


class BankLine(models.Model):
    """One line of the account. What the bank wrote never changes."""

    statement = models.ForeignKey(BankStatement, models.PROTECT, related_name="lines")
    key = models.CharField(max_length=64, unique=True)
    """A hash of what the bank wrote, so that a line that is read twice counts once."""
    booked_on = models.DateField()
    amount_minor = models.BigIntegerField()
    currency = models.CharField(max_length=3)
    party = models.CharField(max_length=140, blank=True)
    text = models.CharField(max_length=280, blank=True)
    payment = models.OneToOneField(
        Payment, models.PROTECT, null=True, related_name="bank_line"
    )
    purchase = models.OneToOneField(
        Purchase, models.PROTECT, null=True, related_name="bank_line"
    )
    left_because = models.CharField(max_length=200, blank=True)
    question = models.CharField(max_length=300, blank=True)
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    answer = models.CharField(max_length=300, blank=True)

    objects = BankLineManager()

    class Meta:
        ordering = ["-booked_on", "-pk"]
        indexes = [models.Index(fields=["booked_on"])]
        constraints = [
            models.CheckConstraint(
                name="bank_line_moves_money", condition=~Q(amount_minor=0)
            ),
        ]

    def __str__(self) -> str:
        return f"{money_words(self.amount)} on {long_date(self.booked_on)}"

    def get_absolute_url(self) -> str:
        """Return the line's page."""
        return reverse("invoicing:bank_line", args=[self.pk])

    @property
    def amount(self) -> Money:
        """What moved; below zero it went out."""
        return Money.from_minor(self.amount_minor, self.currency)

    @property
    def is_open(self) -> bool:
        """Whether nobody has said yet what it is."""
        found = self.payment_id or self.purchase_id or self.left_because
        if found or hasattr(self, "owner_move"):
            return False
        return not self.payout_payments.exists()


class PayoutPayment(models.Model):
    """A card payment that reached the account with a payout of the card service."""

    line = models.ForeignKey(BankLine, models.PROTECT, related_name="payout_payments")
    payment = models.OneToOneField(
        Payment, models.PROTECT, related_name="payout_payment"
    )

    def __str__(self) -> str:
        return f"{self.payment} in {self.line}"


LINE_GUARD: Final = expect(
    frozen(
        "invoicing_bankline",
        columns=("key", "booked_on", "amount_minor", "currency", "party", "text"),
        why="what the bank wrote is never changed",
    )
)
