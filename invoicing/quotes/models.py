"""Quotes: versions of an offer, and the yes that one of them got."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from invoicing.invoices.content import Content, ContentLine
from invoicing.quotes.guards import (
    ACCEPTANCE_GUARD,
    CHOICE_GUARD,
    QUOTE_GUARD,
    QUOTE_LINE_GUARD,
)
from invoicing.quotes.states import QuoteState
from invoicing.tax import PriceBasis
from jobs.bookings.models import Booking
from jobs.jobs.choices import LostReason
from jobs.jobs.models import Job
from studio.files.models import StoredFile
from studio.finding.models import Findable
from studio.finding.words import Words
from studio.money import Money
from studio.profile.models import DepositKind

__all__ = [
    "ACCEPTANCE_GUARD",
    "CHOICE_GUARD",
    "QUOTE_GUARD",
    "QUOTE_LINE_GUARD",
    "Acceptance",
    "Basis",
    "ClientQuestion",
    "DepositRule",
    "How",
    "Quote",
    "QuoteLine",
]


class Basis(models.TextChoices):
    """Whether prices are written with the tax in them."""

    GROSS = "gross", "Tax in the price"
    NET = "net", "Tax on top"


@dataclass(frozen=True, slots=True, kw_only=True)
class DepositRule:
    """A deposit in percent of the total, or as a fixed sum in minor units."""

    kind: str
    percent: int = 0
    minor: int = 0

    def on(self, total: Money) -> Money:
        """Return the deposit on a total; never more than the total."""
        if self.kind == DepositKind.PERCENT:
            return total.share(min(self.percent, 100))
        fixed = Money.from_minor(self.minor, total.currency)
        return max(min(fixed, total), Money.zero(total.currency))


class QuoteQuerySet(models.QuerySet["Quote"]):
    """Narrow quotes down."""

    def of_job(self, job: Job) -> Self:
        """Keep a job's quotes, the newest version first."""
        return self.filter(job=job).order_by("-number", "-version")

    def open(self) -> Self:
        """Keep the versions that still wait for something."""
        return self.filter(state__in=[QuoteState.DRAFT, QuoteState.SENT])

    def sent(self) -> Self:
        """Keep the versions that wait for a yes."""
        return self.filter(state=QuoteState.SENT)


QuoteManager = models.Manager.from_queryset(QuoteQuerySet)


class Quote(Findable):
    """One version of an offer. Sending freezes it in `snapshot`."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="quotes")
    booking = models.ForeignKey(
        Booking, models.PROTECT, null=True, blank=True, related_name="quotes"
    )
    number = models.CharField(max_length=40)
    version = models.PositiveIntegerField(default=1)
    state = models.CharField(
        max_length=10, choices=QuoteState, default=QuoteState.DRAFT
    )
    edit_version = models.PositiveIntegerField(default=1)
    drafted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    drafted_at = models.DateTimeField()

    currency = models.CharField(max_length=3)
    price_basis = models.CharField(max_length=5, choices=Basis)
    valid_until_on = models.DateField()
    pictures_by_on = models.DateField(null=True, blank=True)
    opening_note = models.TextField(max_length=2000, blank=True)
    included = models.TextField(max_length=2000, blank=True)
    discount_percent_hundredths = models.PositiveIntegerField(default=0)
    discount_minor = models.BigIntegerField(default=0)
    discount_reason = models.CharField(max_length=200, blank=True)
    deposit_kind = models.CharField(
        max_length=8, choices=DepositKind, default=DepositKind.PERCENT
    )
    deposit_percent = models.PositiveIntegerField(default=25)
    deposit_minor = models.BigIntegerField(default=0)
    deposit_days = models.PositiveIntegerField(default=7)
    payment_days = models.PositiveIntegerField(default=14)

    planned_minutes = models.PositiveIntegerField("own time expected", default=0)
    assistant_cost_minor = models.BigIntegerField(default=0)
    travel_cost_minor = models.BigIntegerField(default=0)
    other_cost_minor = models.BigIntegerField(default=0)

    declined_at = models.DateTimeField(null=True, blank=True)
    decline_reason = models.CharField(max_length=12, choices=LostReason, blank=True)
    decline_words = models.TextField(max_length=1000, blank=True)
    reminded_at = models.DateTimeField(null=True, blank=True)

    sent_at = models.DateTimeField(null=True, blank=True)
    snapshot = models.JSONField(null=True, blank=True)
    snapshot_hash = models.CharField(max_length=64, blank=True)
    paper = models.ForeignKey(
        StoredFile, models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = QuoteManager()
    found_by = frozenset({"number"})

    class Meta:
        ordering = ["-number", "-version"]
        constraints = [
            models.UniqueConstraint(
                name="quote_version_once", fields=["number", "version"]
            ),
            models.UniqueConstraint(
                name="quote_one_version_is_out",
                fields=["number"],
                condition=Q(state__in=["SENT", "ACCEPTED"]),
            ),
            models.CheckConstraint(
                name="quote_sent_is_frozen",
                condition=Q(state__in=["DRAFT", "REPLACED"])
                | (Q(sent_at__isnull=False) & Q(snapshot__isnull=False)),
            ),
            models.CheckConstraint(
                name="quote_discount_is_one_or_the_other",
                condition=(Q(discount_minor=0) | Q(discount_percent_hundredths=0))
                & Q(discount_minor__gte=0)
                & Q(discount_percent_hundredths__lte=10_000),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number}, version {self.version}"

    def words(self) -> Words:
        """Return what the quote is found by; its job leads to it by other words."""
        return Words(own=(self.number,), at=self.drafted_at)

    def get_absolute_url(self) -> str:
        """Return the quote's page."""
        return reverse("invoicing:quote", args=[self.pk])

    @property
    def basis(self) -> PriceBasis:
        """The price basis, typed."""
        return "gross" if self.price_basis == Basis.GROSS else "net"

    @property
    def has_discount(self) -> bool:
        """Whether anything is taken off."""
        return bool(self.discount_minor or self.discount_percent_hundredths)

    @property
    def package_names(self) -> tuple[str, ...]:
        """The packages that the client chooses one of, in order; often none."""
        named = (line.package for line in self.lines.all() if line.package)
        return tuple(dict.fromkeys(named))

    def contents(self) -> list[tuple[str, Content]]:
        """Return what is to be paid for with each package, without extras.

        Without packages that is one content under no name.
        """
        return [(name, self.content(name)) for name in self.package_names or ("",)]

    def content(self, package: str = "") -> Content:
        """Return the lines to be paid for, with a package and without extras."""
        wanted = [
            line
            for line in self.lines.all()
            if not line.optional and line.package in {"", package}
        ]
        return Content(
            currency=self.currency,
            price_basis=self.basis,
            lines=tuple(line.content() for line in wanted),
            discount_percent_hundredths=self.discount_percent_hundredths,
            discount_minor=self.discount_minor,
            reference=self.number,
        )

    @property
    def deposit(self) -> DepositRule:
        """How the deposit is worked out."""
        return DepositRule(
            kind=self.deposit_kind,
            percent=self.deposit_percent,
            minor=self.deposit_minor,
        )


class QuoteLine(models.Model):
    """One line of a quote; an optional one is for the client to tick.

    One that names a package counts only where the client chooses that package.
    """

    quote = models.ForeignKey(Quote, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    description = models.CharField(max_length=200)
    detail = models.CharField(max_length=400, blank=True)
    quantity_thousandths = models.BigIntegerField(default=1000)
    unit = models.CharField(max_length=40, blank=True)
    unit_price_minor = models.BigIntegerField()
    tax_rate_basis_points = models.PositiveIntegerField(default=0)
    cost_minor = models.BigIntegerField("own cost of one", default=0)
    optional = models.BooleanField(default=False)
    package = models.CharField(max_length=120, blank=True)
    licence_months = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                name="quote_line_is_extra_or_in_a_package",
                condition=Q(optional=False) | Q(package=""),
            ),
            models.CheckConstraint(
                name="quote_line_has_a_price",
                condition=Q(unit_price_minor__gte=0)
                & Q(quantity_thousandths__gt=0)
                & Q(cost_minor__gte=0),
            ),
        ]

    def __str__(self) -> str:
        return self.description

    @property
    def unit_price(self) -> Money:
        """The price of one."""
        return Money.from_minor(self.unit_price_minor, self.quote.currency)

    def content(self) -> ContentLine:
        """Return the line as papers and the tax core read it."""
        return ContentLine(
            description=self.description,
            detail=self.detail,
            unit=self.unit,
            quantity_thousandths=self.quantity_thousandths,
            unit_price_minor=self.unit_price_minor,
            tax_rate_basis_points=self.tax_rate_basis_points,
        )


class How(models.TextChoices):
    """How a client's yes reached the studio."""

    PAGE = "PAGE", "On the private page"
    PHONE = "PHONE", "By phone"
    EMAIL = "EMAIL", "By e-mail"
    PAPER = "PAPER", "On paper"


class Acceptance(models.Model):
    """The yes to one version: who, when, how, and to exactly what."""

    quote = models.OneToOneField(Quote, models.PROTECT, related_name="acceptance")
    name = models.CharField(max_length=200)
    how = models.CharField(max_length=5, choices=How)
    accepted_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    quote_version = models.PositiveIntegerField()
    content = models.JSONField()
    total_minor = models.BigIntegerField()
    deposit_minor = models.BigIntegerField()
    deposit_due_on = models.DateField()
    may_show_pictures = models.BooleanField(default=False)
    snapshot_hash = models.CharField(max_length=64)
    accepted_hash = models.CharField(max_length=64)
    chosen = models.JSONField(default=dict)
    network_address = models.CharField(max_length=60, blank=True)
    scan = models.ForeignKey(
        StoredFile, models.PROTECT, null=True, blank=True, related_name="+"
    )

    def __str__(self) -> str:
        return f"Yes to {self.quote}"

    def agreed_content(self) -> Content:
        """Return the lines that were agreed, extras last."""
        return Content.from_json(self.content)

    @property
    def package_name(self) -> str:
        """The package that was chosen, where several were offered."""
        return str(self.chosen.get("package_name", ""))

    @property
    def total(self) -> Money:
        """The sum that was agreed."""
        return Money.from_minor(self.total_minor, self.content["currency"])

    @property
    def deposit(self) -> Money:
        """The deposit that was agreed."""
        return Money.from_minor(self.deposit_minor, self.content["currency"])


class ClientQuestion(models.Model):
    """What a client asked on the private page."""

    quote = models.ForeignKey(Quote, models.PROTECT, related_name="questions")
    words = models.TextField(max_length=2000)
    asked_at = models.DateTimeField()
    answered_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["asked_at"]

    def __str__(self) -> str:
        return f"Question about {self.quote}"
