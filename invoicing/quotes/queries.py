"""Questions about quotes, answered with plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from invoicing.invoices.content import Order
from invoicing.quotes.models import Acceptance, ClientQuestion, Quote
from invoicing.quotes.states import QuoteState
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.links.models import LinkPurpose, PrivateLink
from studio.money import Money
from studio.profile.models import StudioProfile

BEFORE_YES = (JobStage.ENQUIRY, JobStage.QUOTED)


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionRow:
    """One version of a quote, as the job's page lists it."""

    quote: Quote
    total: Money


def accepted_order(*, job_id: int) -> Order | None:
    """Return what a job's client agreed to, if there was a yes."""
    accepted = Acceptance.objects.filter(quote__job_id=job_id)
    last = accepted.select_related("quote").order_by("-recorded_at").first()
    return order_of(last) if last else None


def order_of(acceptance: Acceptance) -> Order:
    """Return what a client agreed to, as invoices are drafted from."""
    quote = acceptance.quote
    zone = StudioProfile.load().zone
    recorded = acceptance.recorded_at.astimezone(zone).date()
    return Order(
        job_id=quote.job_id,
        content=acceptance.agreed_content(),
        deposit_minor=acceptance.deposit_minor,
        deposit_days=(acceptance.deposit_due_on - recorded).days,
        payment_days=(quote.snapshot or {})["payment_days"],
    )


def versions_of(job: Job) -> list[VersionRow]:
    """Return a job's quotes, the newest version first, each with its total."""
    quotes = Quote.objects.of_job(job).select_related("acceptance__recorded_by")
    return [
        VersionRow(quote=one, total=total_of(one))
        for one in quotes.prefetch_related("lines")
    ]


def total_of(quote: Quote) -> Money:
    """Return a quote's total: what was agreed, what was sent, or what is drafted.

    While packages are to be chosen from, it is that with the cheapest one.
    """
    if quote.state == QuoteState.ACCEPTED:
        return quote.acceptance.total
    if quote.snapshot:
        return Money.from_minor(quote.snapshot["total_minor"], quote.currency)
    every = [content.totals().gross for _, content in quote.contents()]
    return Money(min(every), quote.currency)


def waiting_for_yes(*, on: date) -> list[Quote]:
    """Return the sent quotes, the one whose price lapses first leading."""
    sent = Quote.objects.sent().filter(
        valid_until_on__gte=on, job__stage__in=BEFORE_YES
    )
    return list(sent.select_related("job__client").order_by("valid_until_on", "pk"))


def lapsed_unanswered() -> list[Quote]:
    """Return the quotes whose price lapsed while the job still waits for a yes."""
    lapsed = Quote.objects.filter(state=QuoteState.LAPSED, job__stage__in=BEFORE_YES)
    newer = Quote.objects.filter(state__in=[QuoteState.DRAFT, QuoteState.SENT])
    numbers = set(newer.values_list("number", flat=True))
    found = lapsed.select_related("job__client").order_by("valid_until_on", "pk")
    return [quote for quote in found if quote.number not in numbers]


def drafts_to_send() -> list[Quote]:
    """Return the drafts of jobs that wait for a quote, the oldest first."""
    drafts = Quote.objects.filter(state=QuoteState.DRAFT, job__stage__in=BEFORE_YES)
    found = drafts.select_related("job__client", "drafted_by").prefetch_related("lines")
    return list(found.order_by("drafted_at", "pk"))


def open_questions() -> list[ClientQuestion]:
    """Return what clients asked and nobody answered, the oldest first."""
    unanswered = ClientQuestion.objects.filter(answered_at__isnull=True)
    return list(unanswered.select_related("quote__job__client").order_by("asked_at"))


def opened_at(quote: Quote) -> datetime | None:
    """Return when a quote's private page was first opened."""
    links = PrivateLink.objects.of(LinkPurpose.QUOTE, quote.pk)
    first = links.exclude(first_used_at=None).order_by("first_used_at").first()
    return first.first_used_at if first else None
