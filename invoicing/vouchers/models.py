"""Vouchers, and what each is still worth."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Final, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from invoicing.vouchers.codes import grouped
from jobs.clients.models import Client
from studio.guards import Guard, expect, frozen
from studio.money import Money


class VoucherQuerySet(models.QuerySet["Voucher"]):
    """Narrow vouchers down, and move what they are worth."""

    def standing(self) -> Self:
        """Keep the vouchers with something left on them."""
        return self.filter(remaining_minor__gt=0)

    def take(self, voucher_id: int, minor: int) -> bool:
        """Take a sum off a voucher; False where it has less than that left."""
        enough = self.filter(pk=voucher_id, remaining_minor__gte=minor)
        return enough.update(remaining_minor=F("remaining_minor") - minor) == 1

    def give_back(self, voucher_id: int, minor: int) -> None:
        """Put a sum back on a voucher."""
        whole = self.filter(pk=voucher_id)
        whole.update(remaining_minor=F("remaining_minor") + minor)


class Voucher(models.Model):
    """A sum that a client paid for, and that whoever holds the code may spend here.

    With a rate it is for one kind of work whose tax is known: the tax in its price was
    due at the sale. Without one its tax comes with the invoices that it pays.
    """

    client = models.ForeignKey(Client, models.PROTECT, related_name="vouchers")
    code = models.CharField(max_length=12, unique=True)
    given_to = models.CharField(max_length=120, blank=True)
    greeting = models.TextField(max_length=400, blank=True)
    amount_minor = models.BigIntegerField()
    remaining_minor = models.BigIntegerField()
    currency = models.CharField(max_length=3)
    tax_rate_basis_points = models.PositiveIntegerField(default=0)
    tax_minor = models.BigIntegerField(default=0)
    sold_on = models.DateField()
    valid_until_on = models.DateField(null=True, blank=True)

    sold_at = models.DateTimeField()
    sold_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    objects = models.Manager.from_queryset(VoucherQuerySet)()

    class Meta:
        ordering = ["-sold_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="voucher_is_worth_something", condition=Q(amount_minor__gt=0)
            ),
            models.CheckConstraint(
                name="voucher_never_below_nothing_or_above_its_sum",
                condition=Q(remaining_minor__gte=0)
                & Q(remaining_minor__lte=F("amount_minor")),
            ),
            models.CheckConstraint(
                name="voucher_tax_is_part_of_it",
                condition=Q(tax_minor__gte=0, tax_minor__lt=F("amount_minor")),
            ),
        ]

    def __str__(self) -> str:
        return f"Voucher {self.pk}"

    def get_absolute_url(self) -> str:
        """Return the voucher's page."""
        return reverse("invoicing:voucher", args=[self.pk])

    @property
    def amount(self) -> Money:
        """What it was sold for."""
        return Money.from_minor(self.amount_minor, self.currency)

    @property
    def remaining(self) -> Money:
        """What can still be spent of it."""
        return Money.from_minor(self.remaining_minor, self.currency)

    @property
    def tax(self) -> Money:
        """The tax that was due at its sale."""
        return Money.from_minor(self.tax_minor, self.currency)

    @property
    def tax_rate(self) -> Decimal:
        """The rate of that tax, in percent."""
        return Decimal(self.tax_rate_basis_points) / 100

    @property
    def spoken_code(self) -> str:
        """The code in groups, as it is printed."""
        return grouped(self.code)

    @property
    def has_words(self) -> bool:
        """Whether it says for whom it is, or greets them."""
        return bool(self.given_to or self.greeting)

    def is_done(self, on: date) -> bool:
        """Whether it is spent, taken back, or over."""
        return not self.remaining_minor or self.is_over(on)

    def is_over(self, on: date) -> bool:
        """Whether its last day has passed."""
        return self.valid_until_on is not None and self.valid_until_on < on


WHY: Final = "a voucher that was sold is never rewritten"
VOUCHER_GUARD: Final = expect(
    frozen(
        "invoicing_voucher",
        columns=(
            "client_id",
            "code",
            "amount_minor",
            "currency",
            "sold_on",
            "valid_until_on",
        ),
        why=WHY,
    )
)
VOUCHER_TAX_GUARD: Final = expect(
    frozen(
        "invoicing_voucher",
        columns=("tax_rate_basis_points", "tax_minor"),
        why=WHY,
        deletable=True,  # the first guard of the table refuses that
        name="invoicing_voucher_tax_guard",
    )
)

_SAME_OR_EMPTY: Final = (
    "NEW.given_to IN ('', OLD.given_to) AND NEW.greeting IN ('', OLD.greeting)"
)
_WORDS_WHY: Final = "words of a voucher are emptied, never rewritten"
VOUCHER_WORDS_GUARD: Final = expect(
    Guard(
        name="invoicing_voucher_words_guard",
        table="invoicing_voucher",
        sqlite=(
            "CREATE TRIGGER invoicing_voucher_words_guard_update "
            "BEFORE UPDATE OF given_to, greeting ON invoicing_voucher "
            f"WHEN NOT ({_SAME_OR_EMPTY}) "
            f"BEGIN SELECT RAISE(ABORT, '{_WORDS_WHY}'); END",
        ),
        postgres=(
            "CREATE OR REPLACE FUNCTION invoicing_voucher_words_guard() "
            "RETURNS trigger AS $$ "
            f"BEGIN RAISE EXCEPTION '{_WORDS_WHY}'; END $$ LANGUAGE plpgsql",
            "CREATE TRIGGER invoicing_voucher_words_guard "
            "BEFORE UPDATE OF given_to, greeting ON invoicing_voucher "
            f"FOR EACH ROW WHEN (NOT ({_SAME_OR_EMPTY})) "
            "EXECUTE FUNCTION invoicing_voucher_words_guard()",
        ),
    )
)
