"""Money that came in or went back, and which invoices it settles."""

from __future__ import annotations

from typing import Final, Self

from django.conf import settings
from django.db import models
from django.db.models import Case, F, OuterRef, Q, Subquery, Sum, Value, When
from django.db.models.functions import Coalesce
from django.urls import reverse

from invoicing.invoices.models import Invoice
from invoicing.vouchers.models import Voucher
from jobs.clients.models import Client
from studio.files.models import StoredFile
from studio.guards import expect, insert_only
from studio.money import Money


class Method(models.TextChoices):
    """How money moved."""

    TRANSFER = "TRANSFER", "Bank transfer"
    CARD = "CARD", "Card"
    CASH = "CASH", "Cash"
    CHEQUE = "CHEQUE", "Cheque"
    VOUCHER = "VOUCHER", "Voucher"
    LOSS = "LOSS", "Written off"


NO_MONEY: Final = (Method.VOUCHER, Method.LOSS)
"""A voucher was paid for before, and a debt that is written off never is."""
MONEY: Final = tuple(one for one in Method.choices if one[0] not in NO_MONEY)
"""The ways in which money itself moves."""


class PaymentQuerySet(models.QuerySet["Payment"]):
    """Narrow payments down."""

    def standing(self) -> Self:
        """Keep those that were not taken back."""
        return self.filter(reversal__isnull=True)

    def money(self) -> Self:
        """Keep what moved as money; what a voucher paid came in when it was sold."""
        return self.standing().exclude(method__in=NO_MONEY)

    def with_shares(self) -> Self:
        """Read what each is set on along, in one query more; snapshots stay unread.

        Joined, since Django asks for prefetched parents one by one in an OR, of which
        SQLite takes a thousand.
        """
        shares = Allocation.objects.select_related("invoice")
        lean = shares.defer("invoice__snapshot")
        return self.prefetch_related(models.Prefetch("allocations", lean))

    def with_loose(self) -> Self:
        """Add `set_minor`, set on invoices, and `loose_minor`, still on account."""
        whole = models.BigIntegerField()
        zero = Value(0, output_field=whole)
        shares = Allocation.objects.filter(payment=OuterRef("pk")).order_by()
        gone = Payment.objects.standing().filter(pays_back=OuterRef("pk")).order_by()
        settled = shares.values("payment").annotate(total=Sum("amount_minor"))
        back = gone.values("pays_back").annotate(total=Sum("amount_minor"))
        counted = self.annotate(
            set_minor=Coalesce(Subquery(settled.values("total")), zero),
            back_minor=Coalesce(Subquery(back.values("total")), zero),
        )
        is_bound = (
            Q(reversal__isnull=False)
            | Q(pays_back__isnull=False)
            | (Q(voucher__isnull=False) & ~Q(method=Method.VOUCHER))
        )
        return counted.annotate(
            loose_minor=Case(
                When(is_bound, then=zero),
                default=F("amount_minor")
                + F("rounding_minor")
                - F("set_minor")
                + F("back_minor"),
                output_field=whole,
            )
        )

    def loose(self) -> Self:
        """Keep those that are not wholly set on invoices."""
        some = self.with_loose().filter(balance__loose_minor__isnull=False)
        return some.exclude(loose_minor=0)

    def overspent(self) -> Self:
        """Keep those that settle more than they brought."""
        return self.with_loose().filter(amount_minor__gt=0, loose_minor__lt=0)


class Payment(models.Model):
    """Money received from a client; below zero, money paid back to one.

    By the method LOSS no money came: so much of an invoice was written off.
    `rounding_minor` is what a cash payment settles beyond what came, or below zero what
    came beyond that, since there are no smaller coins.
    With a `voucher`, it is the voucher's price, or by the method VOUCHER a part of it
    that was redeemed. `pays_back` names the money on account that goes back.
    """

    client = models.ForeignKey(Client, models.PROTECT, related_name="payments")
    received_on = models.DateField()
    amount_minor = models.BigIntegerField()
    rounding_minor = models.BigIntegerField(default=0)
    currency = models.CharField(max_length=3)
    method = models.CharField(max_length=8, choices=Method, default=Method.TRANSFER)
    reference = models.CharField(max_length=140, blank=True)
    voucher = models.ForeignKey(
        Voucher, models.PROTECT, null=True, blank=True, related_name="payments"
    )
    pays_back = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="paid_back"
    )
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    form_key = models.CharField(max_length=64, unique=True)
    """One for each form shown, so that a form sent twice counts once."""

    objects = models.Manager.from_queryset(PaymentQuerySet)()

    class Meta:
        ordering = ["-received_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="payment_moves_money", condition=~Q(amount_minor=0)
            ),
            models.CheckConstraint(
                name="payment_by_voucher_names_it",
                condition=~Q(method="VOUCHER") | Q(voucher__isnull=False),
            ),
            models.CheckConstraint(
                name="payment_is_rounded_in_cash_only",
                condition=Q(rounding_minor=0) | Q(method="CASH"),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} on {self.received_on}"

    def get_absolute_url(self) -> str:
        """Return the payment's page."""
        return reverse("invoicing:payment", args=[self.pk])

    @property
    def amount(self) -> Money:
        """The sum that moved."""
        return Money.from_minor(self.amount_minor, self.currency)

    @property
    def rounding(self) -> Money:
        """What the coins left off; below zero, what they came to beyond."""
        return Money.from_minor(self.rounding_minor, self.currency)

    @property
    def number(self) -> str:
        """How papers and lists name the payment."""
        return f"{'Loss' if self.is_loss else 'Payment'} {self.pk}"

    @property
    def is_loss(self) -> bool:
        """Whether it writes a debt off, and no money came."""
        return self.method == Method.LOSS

    @property
    def sells_voucher(self) -> bool:
        """Whether it is the price of a voucher, and so settles no invoice."""
        return self.voucher_id is not None and self.method != Method.VOUCHER


class Allocation(models.Model):
    """The part of a payment that settles one invoice; below zero, a part taken off.

    One that was set or taken off later than the payment came has its day.
    """

    payment = models.ForeignKey(Payment, models.PROTECT, related_name="allocations")
    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="allocations")
    amount_minor = models.BigIntegerField()
    moved_on = models.DateField(null=True, blank=True)
    because = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="allocation_taken_off_says_why",
                condition=Q(amount_minor__gt=0)
                | Q(moved_on__isnull=True)
                | ~Q(because=""),
            ),
            models.CheckConstraint(
                name="allocation_is_of_something", condition=~Q(amount_minor=0)
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount_minor} of payment {self.payment_id} to {self.invoice}"

    @property
    def sum(self) -> Money:
        """What was set on the invoice; below zero, what was taken off or went back."""
        return Money.from_minor(self.amount_minor, self.payment.currency)


class PaymentReversal(models.Model):
    """A payment that was written down wrongly and counts no more."""

    payment = models.OneToOneField(Payment, models.PROTECT, related_name="reversal")
    because = models.CharField(max_length=200)
    reversed_at = models.DateTimeField()
    reversed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )

    def __str__(self) -> str:
        return f"Reversal of payment {self.payment_id}"


class PrintedReceipt(models.Model):
    """A receipt as it was printed; a payment that stands otherwise gets another."""

    payment = models.ForeignKey(Payment, models.PROTECT, related_name="receipts")
    file = models.OneToOneField(StoredFile, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"Receipt for payment {self.payment_id}"


WHY: Final = "a payment is never rewritten; a reversal takes it back"
PAYMENT_GUARD: Final = expect(insert_only("invoicing_payment", WHY))
ALLOCATION_GUARD: Final = expect(insert_only("invoicing_allocation", WHY))
RECEIPT_GUARD: Final = expect(
    insert_only("invoicing_printedreceipt", "a receipt is never rewritten")
)
