"""What the studio bought or drove."""

from __future__ import annotations

from decimal import Decimal
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.jobs.models import Job
from studio.files.models import StoredFile
from studio.money import Money


class PurchaseKind(models.TextChoices):
    """What was bought; each kind is posted to an account of its own."""

    MATERIALS = "MATERIALS", "Prints, albums, materials"
    ASSISTANT = "ASSISTANT", "Assistants and other help"
    TRAVEL = "TRAVEL", "Travel: train, taxi, parking"
    MILEAGE = "MILEAGE", "Own car, by distance"
    EQUIPMENT = "EQUIPMENT", "Equipment and repairs"
    PREMISES = "PREMISES", "Rooms, rent, energy"
    INSURANCE = "INSURANCE", "Insurance"
    SOFTWARE = "SOFTWARE", "Software and subscriptions"
    ADVICE = "ADVICE", "Bookkeeping and advice"
    ADVERTISING = "ADVERTISING", "Advertising"
    BANK_FEES = "BANK_FEES", "Bank and card charges"
    OTHER = "OTHER", "Other costs"


class PaidFrom(models.TextChoices):
    """Where the money came from."""

    BANK = "BANK", "Business bank account"
    CARD = "CARD", "Card takings"
    CASH = "CASH", "Business cash"
    OWN = "OWN", "Own pocket"


class PurchaseQuerySet(models.QuerySet["Purchase"]):
    """Narrow purchases down."""

    def standing(self) -> Self:
        """Keep the ones that were not taken back."""
        return self.filter(dropped_at__isnull=True)

    def without_receipt(self) -> Self:
        """Keep the ones that still lack their receipt; mileage has none."""
        return (
            self.standing()
            .filter(receipt__isnull=True, no_receipt_because="")
            .exclude(kind=PurchaseKind.MILEAGE)
        )


PurchaseManager = models.Manager.from_queryset(PurchaseQuerySet)


class Purchase(models.Model):
    """One thing bought, or one drive. It changes until its period is closed."""

    kind = models.CharField(max_length=12, choices=PurchaseKind)
    supplier = models.CharField(max_length=200)
    what = models.CharField(max_length=200)
    bought_on = models.DateField()
    paid_on = models.DateField(null=True, blank=True)
    paid_from = models.CharField(max_length=4, choices=PaidFrom, default=PaidFrom.BANK)
    currency = models.CharField(max_length=3)
    gross_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField(default=0)
    tax_rate_basis_points = models.PositiveIntegerField(default=0)
    private_percent = models.PositiveSmallIntegerField(default=0)
    distance_tenths = models.PositiveIntegerField(default=0)
    distance_rate_minor_hundredths = models.PositiveIntegerField(default=0)
    job = models.ForeignKey(
        Job, models.PROTECT, null=True, blank=True, related_name="purchases"
    )
    receipt = models.OneToOneField(
        StoredFile, models.PROTECT, null=True, blank=True, related_name="purchase"
    )
    no_receipt_because = models.CharField(max_length=200, blank=True)
    """Why it needs no receipt; empty while one is expected."""
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    dropped_at = models.DateTimeField(null=True, blank=True)
    dropped_because = models.CharField(max_length=200, blank=True)

    objects = PurchaseManager()

    class Meta:
        ordering = ["-bought_on", "-pk"]
        indexes = [models.Index(fields=["bought_on"])]
        constraints = [
            models.CheckConstraint(
                name="purchase_costs_something", condition=Q(gross_minor__gt=0)
            ),
            models.CheckConstraint(
                name="purchase_tax_is_part_of_it",
                condition=Q(tax_minor__gte=0, tax_minor__lt=F("gross_minor")),
            ),
            models.CheckConstraint(
                name="purchase_private_share_is_a_share",
                condition=Q(private_percent__lte=100),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.supplier}, {self.what}"

    def get_absolute_url(self) -> str:
        """Return the purchase's page."""
        return reverse("invoicing:purchase", args=[self.pk])

    @property
    def gross(self) -> Money:
        """What it cost, tax included."""
        return Money.from_minor(self.gross_minor, self.currency)

    @property
    def tax(self) -> Money:
        """The tax in it."""
        return Money.from_minor(self.tax_minor, self.currency)

    @property
    def distance(self) -> Decimal:
        """How far was driven, in the studio's unit of distance."""
        return Decimal(self.distance_tenths) / 10

    @property
    def lacks_receipt(self) -> bool:
        """Whether a receipt is still missing."""
        return not (
            self.receipt_id
            or self.no_receipt_because
            or self.kind == PurchaseKind.MILEAGE
        )
