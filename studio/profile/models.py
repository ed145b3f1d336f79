"""The business: name, tax, bank, terms, and the studio's usual ways."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from copy import copy
from decimal import Decimal
from typing import Final, Self, cast
from zoneinfo import ZoneInfo

from django.db import models

from studio.money import Money, decimal_from_minor, exponent
from studio.series.models import SeriesKind
from studio.wording import plain_number

ONLY: Final = 1
_ROW: Final = "SELECT * FROM studio_studioprofile WHERE id = %s"
_kept: ContextVar[dict[int, StudioProfile] | None] = ContextVar("kept", default=None)


@contextmanager
def read_once() -> Iterator[None]:
    """Read the studio's row once at most within this block, which changes nothing."""
    token = _kept.set({})
    try:
        yield
    finally:
        _kept.reset(token)


class DepositKind(models.TextChoices):
    """How a deposit is set."""

    PERCENT = "PERCENT", "Percent of the total"
    AMOUNT = "AMOUNT", "A fixed sum"


class TaxBasis(models.TextChoices):
    """When the tax of a sale is due."""

    ACCRUAL = "ACCRUAL", "When it is invoiced, by tax point"
    RECEIPT = "RECEIPT", "When the money moves"


class DistanceUnit(models.TextChoices):
    """What drives are measured in."""

    MILE = "mile", "Miles"
    KILOMETRE = "km", "Kilometres"


class TaxCategory(models.TextChoices):
    """How a supply is treated for tax, by the codes of UNTDID 5305."""

    STANDARD = "S", "Standard, by rate"
    ZERO = "Z", "Zero-rated"
    EXEMPT = "E", "Exempt"
    REVERSE = "AE", "Reverse charge"
    EXPORT = "G", "Export, or supplied in another country"
    OUTSIDE = "O", "Outside the scope of tax"


class StudioProfile(models.Model):
    """The one row that says whose studio this is."""

    trading_name = models.CharField(max_length=120, blank=True)
    owner_name = models.CharField(max_length=120, blank=True)
    address = models.TextField(max_length=400, blank=True)
    country = models.CharField(max_length=2, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    public_address = models.URLField(blank=True)

    currency = models.CharField(max_length=3, default="GBP")
    tax_registered = models.BooleanField(default=False)
    tax_name = models.CharField(max_length=20, default="VAT")
    tax_number = models.CharField(max_length=40, blank=True)
    tax_rate_basis_points = models.PositiveIntegerField(default=2000)
    list_prices_include_tax = models.BooleanField(default=True)

    zero_words = models.CharField(max_length=200, blank=True, default="Zero-rated.")
    exempt_words = models.CharField(
        max_length=200, blank=True, default="Exempt from tax."
    )
    reverse_words = models.CharField(
        max_length=200,
        blank=True,
        default="Reverse charge: the customer accounts for the tax.",
    )
    export_words = models.CharField(
        max_length=200,
        blank=True,
        default="Supplied in another country, so no tax is charged here.",
    )
    outside_words = models.CharField(
        max_length=200, blank=True, default="Outside the scope of tax."
    )
    unregistered_words = models.CharField(max_length=200, blank=True)
    unregistered_category = models.CharField(
        max_length=2, choices=TaxCategory, default=TaxCategory.OUTSIDE
    )
    registration_number = models.CharField(max_length=40, blank=True)
    untaxed_category = models.CharField(
        max_length=2, choices=TaxCategory, default=TaxCategory.EXEMPT
    )
    simplified_limit_minor = models.BigIntegerField(null=True, blank=True)
    prints_creditor_reference = models.BooleanField(default=False)
    prints_payment_code = models.BooleanField(default=False)

    account_name = models.CharField(max_length=120, blank=True)
    sort_code = models.CharField(max_length=20, blank=True)
    account_number = models.CharField(max_length=40, blank=True)
    iban = models.CharField("IBAN", max_length=42, blank=True)
    bic = models.CharField("BIC", max_length=14, blank=True)

    time_zone = models.CharField(max_length=60, default="Europe/London")
    home_name = models.CharField(max_length=120, blank=True)
    home_latitude = models.FloatField(null=True, blank=True)
    home_longitude = models.FloatField(null=True, blank=True)

    deposit_kind = models.CharField(
        max_length=8, choices=DepositKind, default=DepositKind.PERCENT
    )
    deposit_percent = models.PositiveIntegerField(default=25)
    deposit_minor = models.BigIntegerField(default=0)
    deposit_days = models.PositiveIntegerField(default=7)
    quote_days = models.PositiveIntegerField(default=14)
    payment_days = models.PositiveIntegerField(default=14)
    pictures_days = models.PositiveIntegerField(default=21)
    reply_days = models.PositiveIntegerField(default=1)
    quote_reminder_days = models.PositiveSmallIntegerField(default=3)
    quote_reminder_by_itself = models.BooleanField(default=False)
    hour_worth_minor = models.BigIntegerField(default=0)
    acceptance_confirms = models.BooleanField(default=False)

    terms = models.TextField(max_length=6000, blank=True)
    moving_words = models.TextField(max_length=600, blank=True)
    weather_words = models.TextField(max_length=600, blank=True)
    withdrawal_words = models.TextField(max_length=1200, blank=True)
    wear_words = models.TextField(max_length=1200, blank=True)
    bring_words = models.TextField(max_length=1200, blank=True)

    tax_basis = models.CharField(
        max_length=8, choices=TaxBasis, default=TaxBasis.ACCRUAL
    )
    period_months = models.PositiveSmallIntegerField(default=3)
    period_first_month = models.PositiveSmallIntegerField(default=1)
    year_first_month = models.PositiveSmallIntegerField(default=1)
    year_first_day = models.PositiveSmallIntegerField(default=1)
    distance_unit = models.CharField(
        max_length=4, choices=DistanceUnit, default=DistanceUnit.MILE
    )
    cash_coin_minor = models.PositiveIntegerField(default=0)
    """The smallest coin that cash is rounded to; nothing where it is not."""
    cash_coin_currency = models.CharField(max_length=3, blank=True)
    """The currency of that coin: in another one nothing is rounded."""
    distance_rate_minor_hundredths = models.PositiveIntegerField(default=0)

    travel_kmh = models.PositiveSmallIntegerField(default=50)

    enquiry_form_open = models.BooleanField(default=False)
    enquiry_words = models.TextField(max_length=600, blank=True)
    guide_words = models.TextField(max_length=4000, blank=True)

    quote_pattern = models.CharField(max_length=40, default="Q-{year}-{place:03d}")
    job_pattern = models.CharField(max_length=40, default="J-{year}-{place:03d}")
    invoice_pattern = models.CharField(max_length=40, default="{year}-{place:04d}")
    credit_note_pattern = models.CharField(
        max_length=40, default="CN-{year}-{place:03d}"
    )

    is_demo = models.BooleanField(default=False)
    set_up_at = models.DateTimeField(null=True, blank=True)
    backed_up_at = models.DateTimeField(null=True, blank=True)
    backup_dir = models.CharField(max_length=300, blank=True)

    def __str__(self) -> str:
        return self.trading_name or "Unnamed studio"

    @classmethod
    def load(cls) -> Self:
        """Return the studio's row, made with plain defaults when it is missing.

        While a page is only shown it is read once; each caller has its own copy.
        """
        kept = _kept.get()
        if kept is None:
            return cls._read()
        if ONLY not in kept:
            kept[ONLY] = cls._read()
        return cast("Self", copy(kept[ONLY]))

    @classmethod
    def _read(cls) -> Self:
        """Read the row by a plain statement: naming its many columns took longest."""
        for row in cls.objects.raw(_ROW, [ONLY]):
            return row
        return cls.objects.get_or_create(pk=ONLY)[0]

    @property
    def distance_rate(self) -> str:
        """What one mile or kilometre is worth, such as GBP 0.45."""
        digits = exponent(self.currency) + 2
        rate = decimal_from_minor(self.distance_rate_minor_hundredths, digits)
        return f"{self.currency} {plain_number(rate)}"

    @property
    def zone(self) -> ZoneInfo:
        """The studio's own time zone."""
        return ZoneInfo(self.time_zone)

    @property
    def tax_rate(self) -> Decimal:
        """The usual tax rate in percent; 0 where the studio is not registered."""
        if not self.tax_registered:
            return Decimal(0)
        return Decimal(self.tax_rate_basis_points) / 100

    @property
    def deposit(self) -> Money:
        """The usual fixed deposit."""
        return Money.from_minor(self.deposit_minor, self.currency)

    def pattern_of(self, kind: SeriesKind) -> str:
        """Return how the numbers of a series are written."""
        return {
            SeriesKind.QUOTE: self.quote_pattern,
            SeriesKind.JOB: self.job_pattern,
            SeriesKind.INVOICE: self.invoice_pattern,
            SeriesKind.CREDIT_NOTE: self.credit_note_pattern,
        }[kind]
