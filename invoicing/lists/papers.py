"""The table of invoices and credit notes."""

from __future__ import annotations

from typing import Any, Final

from django.db.models import (
    BigIntegerField,
    Case,
    Exists,
    F,
    Max,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.html import format_html

from invoicing.invoices.models import Invoice, standing_by
from invoicing.invoices.queries import lost_words, words_of_standing
from invoicing.invoices.states import Purpose, Series, Standing
from invoicing.lists.columns import Column, Look, day_words
from invoicing.lists.listing import Listing, Narrowed, between
from invoicing.payments.models import Allocation
from jobs.clients.models import Client
from studio.money import decimal_from_minor, exponent
from studio.sheets import Cell
from studio.templatetags.northsill import mark

LATE, DUE, PAID, CREDITED, CREDIT_NOTE = range(5)
RANKS: Final = {"late": LATE, "due": DUE, "paid": PAID, "credited": CREDITED}
_CREDIT: Final = Q(series=Series.CREDIT_NOTE)
_KINDS: Final = {
    "invoices": ~_CREDIT,
    "deposits": ~_CREDIT & Q(purpose=Purpose.DEPOSIT),
    "stages": ~_CREDIT & Q(purpose=Purpose.STAGE),
    "credit-notes": _CREDIT,
}


def rows(data: Narrowed, look: Look) -> QuerySet[Any]:
    """Return the papers that were asked for, each with how it stands on the day."""
    found = _counted(look).filter(_words(data))
    if data.get("kind"):
        found = found.filter(_KINDS[data["kind"]])
    if data.get("first"):
        found = found.filter(issued_on__gte=data["first"])
    if data.get("last"):
        found = found.filter(issued_on__lte=data["last"])
    found = found.filter(_show(data, look))
    return between(found, "signed_minor", data.get("least"), data.get("most"))


def _counted(look: Look) -> QuerySet[Any]:
    share = Allocation.objects.filter(
        invoice=OuterRef("pk"), payment__reversal__isnull=True
    )
    last = share.order_by().values("invoice").annotate(day=Max("payment__received_on"))
    papers = Invoice.objects.with_balance().select_related("client", "job")
    whole = BigIntegerField()
    return papers.annotate(
        paid_on=Subquery(last.values("day")),
        signed_minor=Case(
            When(_CREDIT, then=-F("gross_minor")),
            default=F("gross_minor"),
            output_field=whole,
        ),
        owed_minor=Coalesce("balance__open_minor", 0),
        rank=Case(
            When(_CREDIT, then=Value(CREDIT_NOTE)),
            When(balance__open_minor__gt=0, due_on__lt=look.on, then=Value(LATE)),
            When(balance__open_minor__gt=0, then=Value(DUE)),
            When(
                credited_minor__gt=0,
                credited_minor__gte=F("gross_minor"),
                then=Value(CREDITED),
            ),
            default=Value(PAID),
        ),
    )


def _show(data: Narrowed, look: Look) -> Q:
    show = data["show"]
    if show == "all" or data.get("kind") == "credit-notes":
        return Q()
    if show in RANKS:
        return Q(rank=RANKS[show])
    this_month = Allocation.objects.filter(
        invoice=OuterRef("pk"),
        payment__reversal__isnull=True,
        payment__received_on__gte=look.on.replace(day=1),
    )
    return ~_CREDIT & (Q(balance__open_minor__gt=0) | Q(Exists(this_month)))


def _words(data: Narrowed) -> Q:
    found = Q()
    if words := data.get("words"):
        found &= (
            Q(number__icontains=words)
            | Q(client__name__icontains=words)
            | Q(job__title__icontains=words)
        )
    if data.get("client"):
        found &= Q(client__in=Client.objects.family_of(data["client"]))
    return found


def _number(paper: Any, look: Look) -> str:
    return format_html('<a href="{}">{}</a>', paper.get_absolute_url(), paper.number)


def _client(paper: Any, look: Look) -> str:
    return format_html(
        '{} <span class="small quiet apart">{}</span>',
        paper.client.name,
        paper.job.title,
    )


def _state(paper: Any, look: Look) -> str:
    if paper.rank == CREDIT_NOTE:
        return mark(Standing.CREDITED, "Credit note")
    if paper.balance_minor < 0:
        return mark(Standing.PART_PAID, "To pay back")
    standing = standing_by(paper, on=look.on)
    if standing is Standing.PAID and paper.paid_on:
        return mark(standing, f"Paid {day_words(paper.paid_on, look)}")
    if standing is Standing.LOST:
        return mark(standing, lost_words(paper.paid_minor))
    days_late = (look.on - paper.due_on).days
    return mark(standing, words_of_standing(standing, paper.due_on, days_late))


def _state_cell(paper: Any) -> Cell:
    if paper.owed_minor < 0:
        return "To pay back"
    if paper.rank == PAID and paper.lost_minor:
        return lost_words(paper.paid_minor)
    names = ("Late", "Not yet due", "Paid", "Credited", "Credit note")
    return names[paper.rank]


def _tax(paper: Any) -> Cell:
    """Return the tax of a paper; a credit note takes it back."""
    sign = -1 if paper.is_credit_note else 1
    return decimal_from_minor(sign * paper.tax_minor, exponent(paper.currency))


def _next(paper: Any, look: Look) -> str:
    if paper.owed_minor <= 0:
        return format_html(
            '<a href="{}">Open<span class="unseen"> {}</span></a>',
            paper.get_absolute_url(),
            paper.number,
        )
    return format_html(
        '<a href="{}">Record payment<span class="unseen"> for {}</span></a>',
        reverse("invoicing:payment_new", args=[paper.pk]),
        paper.number,
    )


PAPERS: Final = Listing(
    slug="papers",
    name="Invoices",
    action="money.see",
    rows=rows,
    first_order=("rank", "due_on"),
    first_sort="due",
    groups=lambda look: (
        "Late",
        "Not yet due",
        "Paid",
        "Credited",
        "Credit notes",
    ),
    columns=(
        Column(
            key="number",
            name="Number",
            value=lambda paper: paper.number,
            shown=_number,
            order="number",
            css="together phone-d",
            is_head=True,
        ),
        Column(
            key="client",
            name="Client and job",
            value=lambda paper: paper.client.name,
            shown=_client,
            order="client__name",
            css="phone-a",
        ),
        Column(
            key="job",
            name="Job",
            value=lambda paper: f"{paper.job.number} {paper.job.title}",
            on_page=False,
        ),
        Column(
            key="issued",
            name="Issued",
            value=lambda paper: paper.issued_on,
            order="issued_on",
            css="together phone-off",
        ),
        Column(
            key="due",
            name="Due",
            value=lambda paper: None if paper.is_credit_note else paper.due_on,
            order="due_on",
            css="together phone-off",
        ),
        Column(
            key="tax",
            name="Tax in it",
            value=_tax,
            is_taxed=True,
            on_page=False,
        ),
        Column(
            key="total",
            name="Total",
            minor="signed_minor",
            order="signed_minor",
            adds="signed_minor",
            css="number phone-off",
        ),
        Column(
            key="paid",
            name="Paid",
            minor="paid_minor",
            order="paid_minor",
            adds="paid_minor",
            css="number phone-off",
        ),
        Column(
            key="balance",
            name="Balance",
            minor="owed_minor",
            order="owed_minor",
            adds="owed_minor",
            in_group=True,
            css="number strong phone-b",
        ),
        Column(
            key="state",
            name="State",
            value=_state_cell,
            shown=_state,
            order="rank",
            css="apart-left phone-c",
        ),
        Column(
            key="next",
            name="Next step",
            shown=_next,
            css="act phone-e",
            in_sheet=False,
        ),
    ),
)
