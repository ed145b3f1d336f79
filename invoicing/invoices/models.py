"""Drafts that may change, and issued papers that never do."""

from __future__ import annotations

from datetime import date
from typing import Any, Final, Self

from django.conf import settings
from django.db import models
from django.db.models import Case, Exists, F, OuterRef, Q, Subquery, Sum, Value, When
from django.db.models.functions import Coalesce
from django.urls import reverse

from invoicing.invoices.content import Content
from invoicing.invoices.states import Purpose, Series, Standing
from jobs.clients.models import Client
from jobs.jobs.models import Job
from studio.files.models import StoredFile
from studio.finding.models import Findable, FindableWords
from studio.finding.words import Words, asked
from studio.guards import expect, insert_only
from studio.money import Money

LOSS: Final = "LOSS"
"""How a payment is called that writes a debt off, and brought no money."""


class InvoiceDraft(models.Model):
    """An invoice being written. It has no number until it is issued."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="invoice_drafts")
    purpose = models.CharField(max_length=8, choices=Purpose)
    content = models.JSONField()
    due_days = models.PositiveIntegerField(default=14)
    note = models.TextField(max_length=2000, blank=True)
    simplified = models.BooleanField(default=False)
    charges_for = models.ForeignKey(
        "Invoice", models.PROTECT, related_name="charges", null=True, blank=True
    )
    """The invoice whose late payment it charges."""
    written_at = models.DateTimeField()
    dropped_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["written_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                name="draft_one_deposit_a_job",
                fields=["job", "purpose"],
                condition=Q(purpose=Purpose.DEPOSIT, dropped_at__isnull=True),
            ),
        ]

    def __str__(self) -> str:
        return f"Draft {self.get_purpose_display().lower()} invoice {self.pk}"

    def get_absolute_url(self) -> str:
        """Return the draft's page."""
        return reverse("invoicing:draft", args=[self.pk])

    @property
    def read_content(self) -> Content:
        """The draft's content, read from its JSON."""
        return Content.from_json(self.content)

    @property
    def is_issued(self) -> bool:
        """Whether the draft has become an invoice."""
        return hasattr(self, "invoice")


class InvoiceQuerySet(models.QuerySet["Invoice"]):
    """Narrow issued papers down."""

    def invoices(self) -> Self:
        """Keep invoices; credit notes are left out."""
        return self.filter(series=Series.INVOICE)

    def matching(self, words: str) -> Self:
        """Keep the papers whose number, client or job holds the words."""
        condition = Q()
        for word in asked(words):
            condition &= _of_word(word)
        return self.filter(condition)

    def with_balance(self) -> Self:
        """Add `paid_minor`, `lost_minor`, `credited_minor` and `balance_minor`."""
        settled = _allocations().filter(invoice=OuterRef("pk"))
        is_loss = Q(payment__method=LOSS)
        from_credits = (
            Invoice.objects.filter(corrects=OuterRef("pk"))
            .order_by()
            .values("corrects")
            .annotate(total=Sum("gross_minor"))
            .values("total")
        )
        zero = Value(0, output_field=models.BigIntegerField())
        counted = self.annotate(
            paid_minor=Coalesce(_total_of(settled.exclude(is_loss)), zero),
            lost_minor=Coalesce(_total_of(settled.filter(is_loss)), zero),
            credited_minor=Coalesce(Subquery(from_credits), zero),
        )
        return counted.annotate(
            balance_minor=F("gross_minor")
            - F("paid_minor")
            - F("lost_minor")
            - F("credited_minor")
        )

    def standing(self) -> Self:
        """Keep the invoices that were not taken back as a whole."""
        notes = Invoice.objects.filter(corrects=OuterRef("pk"))
        return (
            self.invoices()
            .with_balance()
            .filter(~Exists(notes) | Q(credited_minor__lt=F("gross_minor")))
        )

    def credited_beyond(self) -> Self:
        """Keep the invoices that were taken back by more than they came to."""
        counted = self.invoices().with_balance()
        return counted.filter(credited_minor__gt=F("gross_minor"), gross_minor__gte=0)

    def unsettled(self) -> Self:
        """Keep the invoices with something still to be paid."""
        return self.invoices().with_balance().filter(balance__open_minor__gt=0)

    def late_first(self, *, on: date) -> Self:
        """Order late invoices first, the oldest due date leading."""
        late = Case(When(due_on__lt=on, then=Value(0)), default=Value(1))
        return self.order_by(late, "due_on", "pk")


def _of_word(word: str) -> Q:
    """Return that a paper, its client or its job holds a word."""
    papers = FindableWords.objects.found(Invoice, word)
    jobs = FindableWords.objects.found(Job, word)
    return Q(pk__in=papers.values("row_id")) | Q(job__in=jobs.values("row_id"))


InvoiceManager = models.Manager.from_queryset(InvoiceQuerySet)


class Invoice(Findable):
    """An issued paper of the books. The database refuses to change or delete it.

    Credit notes carry positive amounts and name what they correct. `snapshot` holds
    everything that the paper prints; `hash` chains it to the paper before.
    """

    series = models.CharField(max_length=12, choices=Series)
    purpose = models.CharField(max_length=8, choices=Purpose)
    number = models.CharField(max_length=40)
    year = models.PositiveIntegerField()
    place = models.PositiveIntegerField()
    draft = models.OneToOneField(
        InvoiceDraft, models.PROTECT, null=True, related_name="invoice"
    )
    job = models.ForeignKey(Job, models.PROTECT, related_name="invoices")
    client = models.ForeignKey(Client, models.PROTECT, related_name="invoices")
    corrects = models.ForeignKey(
        "self", models.PROTECT, null=True, related_name="credit_notes"
    )
    issued_on = models.DateField()
    due_on = models.DateField()
    tax_point_on = models.DateField()
    currency = models.CharField(max_length=3)
    net_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField()
    gross_minor = models.BigIntegerField()
    snapshot = models.JSONField()
    snapshot_hash = models.CharField(max_length=64)
    chain_sequence = models.BigIntegerField(unique=True)
    previous_hash = models.CharField(max_length=64)
    hash = models.CharField(max_length=64)
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )

    objects = InvoiceManager()
    found_by = frozenset({"number", "client"})
    found_with = ("client",)

    class Meta:
        ordering = ["-issued_on", "-chain_sequence"]
        constraints = [
            models.UniqueConstraint(
                name="invoice_number_once", fields=["series", "number"]
            ),
            models.UniqueConstraint(
                name="invoice_place_once", fields=["series", "year", "place"]
            ),
            models.CheckConstraint(
                name="invoice_gross_is_net_and_tax",
                condition=Q(gross_minor=F("net_minor") + F("tax_minor")),
            ),
            models.CheckConstraint(
                name="invoice_credit_names_what_it_corrects",
                condition=Q(series=Series.INVOICE) | Q(corrects__isnull=False),
            ),
        ]
        indexes = [models.Index(fields=["due_on"]), models.Index(fields=["issued_on"])]

    def __str__(self) -> str:
        return self.number

    def words(self) -> Words:
        """Return what the paper is found by."""
        return Words(
            own=(self.number,),
            whose=self.client.known_as,
            whose_id=self.client_id,
            at=self.issued_at,
        )

    def get_absolute_url(self) -> str:
        """Return the paper's page."""
        return reverse("invoicing:invoice", args=[self.pk])

    @property
    def gross(self) -> Money:
        """The sum with tax."""
        return Money.from_minor(self.gross_minor, self.currency)

    @property
    def is_credit_note(self) -> bool:
        """Whether the paper takes another back."""
        return self.series == Series.CREDIT_NOTE


class TaxRow(models.Model):
    """One row of a paper's tax breakdown."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="tax_rows")
    category = models.CharField(max_length=4)
    rate_basis_points = models.PositiveIntegerField()
    taxable_minor = models.BigIntegerField()
    tax_minor = models.BigIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="tax_row_once_a_rate",
                fields=["invoice", "category", "rate_basis_points"],
            ),
        ]

    def __str__(self) -> str:
        return f"{self.invoice} {self.category} {self.rate_basis_points}"


class DocumentKind(models.TextChoices):
    """The forms in which a paper is kept."""

    PDF = "PDF", "PDF"
    HYBRID = "HYB", "PDF with data"
    UBL = "UBL", "UBL data"


class IssuedDocument(models.Model):
    """The bytes of an issued paper, made once from its snapshot."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="documents")
    kind = models.CharField(max_length=4, choices=DocumentKind)
    file = models.OneToOneField(StoredFile, models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="document_once_a_kind", fields=["invoice", "kind"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.invoice}"


def stands(paper: Invoice) -> bool:
    """Say of a paper with its balance whether it is an invoice that was not taken back.

    It says of one what `standing` keeps of many.
    """
    credited_minor: int = paper.__dict__["credited_minor"]
    kept = not credited_minor or credited_minor < paper.gross_minor
    return not paper.is_credit_note and kept


def standing_by(invoice: Any, *, on: date) -> Standing:
    """Return how an invoice that `with_balance` counted stands on a day."""
    balance_minor, credited_minor = invoice.balance_minor, invoice.credited_minor
    kept_minor = invoice.gross_minor - credited_minor
    if balance_minor <= 0:
        if credited_minor and kept_minor <= 0:
            return Standing.CREDITED
        return Standing.LOST if invoice.lost_minor else Standing.PAID
    if invoice.due_on < on:
        return Standing.LATE
    return Standing.PART_PAID if balance_minor < kept_minor else Standing.OPEN


def _total_of(allocations: models.QuerySet[models.Model]) -> Subquery:
    sums = allocations.order_by().values("invoice")
    return Subquery(sums.annotate(total=Sum("amount_minor")).values("total"))


def _allocations() -> models.QuerySet[models.Model]:
    model = Invoice._meta.get_field("allocations").related_model
    return model._default_manager.filter(payment__reversal__isnull=True)


WHY: Final = "an issued paper is never changed; a credit note corrects it"
INVOICE_GUARD: Final = expect(insert_only("invoicing_invoice", WHY))
TAX_ROW_GUARD: Final = expect(insert_only("invoicing_taxrow", WHY))
DOCUMENT_GUARD: Final = expect(insert_only("invoicing_issueddocument", WHY))
