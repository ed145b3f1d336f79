"""What invoices show on the job's page and on Today."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db.models import Sum
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from invoicing.invoices.ahead import invoiced_ahead, rest_of_content
from invoicing.invoices.hourly import hourly_pay
from invoicing.invoices.models import Invoice, InvoiceDraft, stands
from invoicing.invoices.operations import open_drafts
from invoicing.invoices.queries import (
    draft_total,
    drafts_waiting,
    glance,
    late_rows,
    row_of,
)
from invoicing.invoices.states import AHEAD, FINAL, Purpose
from invoicing.quotes.queries import accepted_order, total_of, waiting_for_yes
from invoicing.quotes.shared import versions_on
from jobs.bookings.models import Booking
from jobs.hours.queries import WorkOnJob
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.http import StaffRequest
from studio.money import Money, sum_money
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import money_words

INVOICED_IN = (JobStage.BOOKED, JobStage.SHOT, JobStage.DELIVERED)
WATCH, ISSUE = "Watch for the deposit of", "Issue the invoice to"


@show_on("job.main", action="invoice.see", order=70)
def invoices_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """List the job's invoices and what can be invoiced next."""
    on = timezone.now().astimezone(StudioProfile.load().zone).date()
    papers = Invoice.objects.filter(job=job).with_balance()
    papers = papers.select_related("client", "job").order_by("chain_sequence")
    rows = [row_of(one, on=on) for one in papers]
    drafts = open_drafts(job)
    context = {
        "job": job,
        "rows": rows,
        "credits": {one.pk for one in papers if one.is_credit_note},
        "drafts": [(draft, draft_total(draft)) for draft in drafts],
        "may_draft_rest": _rest_is_open(job, papers, drafts)
        and any(hasattr(row.quote, "acceptance") for row in versions_on(request, job)),
        "is_ahead": any(one.purpose in AHEAD and stands(one) for one in papers),
        "stage_drafted": any(draft.purpose == Purpose.STAGE for draft in drafts),
    }
    return render_to_string("invoicing/invoices/_job_panel.html", context, request)


def may_draft_rest(job: Job) -> bool:
    """Say whether the rest of a job's order waits to be invoiced."""
    if job.stage not in INVOICED_IN:
        return False
    if not _rest_is_open(job, job.invoices.with_balance(), open_drafts(job)):
        return False
    return accepted_order(job_id=job.pk) is not None


def _rest_is_open(
    job: Job, papers: Iterable[Invoice], drafts: Iterable[InvoiceDraft]
) -> bool:
    if job.stage not in INVOICED_IN:
        return False
    invoiced = any(one.purpose in FINAL and stands(one) for one in papers)
    drafted = any(draft.purpose in FINAL for draft in drafts)
    return not invoiced and not drafted


@show_on("job.hours", action="money.see")
def hourly_panel(request: StaffRequest, work: WorkOnJob) -> SafeString | str:
    """Say what a job paid for each hour that was noted on it."""
    pay = hourly_pay(work.job, minutes=work.minutes)
    if pay is None:
        return ""
    return render_to_string("invoicing/invoices/_hourly.html", {"pay": pay}, request)


@show_on("today.side", action="money.see", order=40)
def money_card(request: StaffRequest, at: datetime) -> SafeString | str:
    """Show what is late, due soon, not yet invoiced, and offered."""
    profile = StudioProfile.load()
    on, currency = at.astimezone(profile.zone).date(), profile.currency
    rests = [rest_of(job) for job in _shot_jobs() if may_draft_rest(job)]
    offered = [total_of(quote) for quote in waiting_for_yes(on=on)]
    context = {
        "glance": glance(on=on, currency=currency),
        "rest": sum_money(_in(rests, currency), currency=currency),
        "rest_count": len(rests),
        "offered": sum_money(_in(offered, currency), currency=currency),
        "offered_count": len(offered),
    }
    return render_to_string("invoicing/invoices/_money_card.html", context, request)


@show_on("today.session", action="invoice.see", order=40)
def session_money(request: StaffRequest, booking: Booking) -> SafeString | str:
    """Say what of a session's price is still to come."""
    order = accepted_order(job_id=booking.job_id)
    if order is None:
        return ""
    unsettled = Invoice.objects.unsettled().filter(job_id=booking.job_id)
    open_minor = unsettled.aggregate(total=Sum("balance_minor"))["total"] or 0
    rest = rest_of(booking.job) if may_draft_rest(booking.job) else None
    owed = Money.from_minor(open_minor, order.content.currency)
    to_come = owed + rest if rest else owed
    if not to_come.minor:
        return "Paid in full. "
    return format_html("{} still to come. ", money_words(to_come))


def rest_of(job: Job) -> Money:
    """Return what is left of a job's order after its deposits and stages."""
    order = accepted_order(job_id=job.pk)
    if order is None:
        return Money.zero(StudioProfile.load().currency)
    return rest_of_content(order.content, invoiced_ahead(job))


@on_today(action="invoice.issue")
def money_to_do(person: Person, at: datetime) -> list[TodayItem]:
    """Give late invoices, deposits to watch for, and rests to be invoiced."""
    on = at.astimezone(StudioProfile.load().zone).date()
    items = [
        TodayItem(
            group="late",
            title=f"Chase {row.client_name}, {money_words(row.balance)}",
            reason=f"Invoice {row.number}, {row.standing_words}.",
            url=row.url,
            verb="Open invoice",
            icon="money",
            due_on=row.due_on,
            amount_minor=row.balance.minor,
        )
        for row in late_rows(on=on)
    ]
    for draft in drafts_waiting():
        due = draft.written_at.astimezone(StudioProfile.load().zone).date()
        due += timedelta(days=draft.due_days)
        deposit = draft.purpose == Purpose.DEPOSIT
        items.append(
            TodayItem(
                group="late" if deposit and due < on else "today",
                title=(
                    f"{WATCH if deposit else ISSUE} {draft.job.client}, "
                    f"{money_words(draft_total(draft))}"
                ),
                reason=f"{draft.job.title}, {draft.job.number}. Drafted.",
                url=draft.get_absolute_url(),
                verb="Record it" if deposit else "Review",
                icon="money",
                due_on=due if deposit else on,
            )
        )
    items += [
        TodayItem(
            group="today",
            title=f"Invoice the rest of {job.title}",
            reason=f"Shot, not yet invoiced. {job.client}, {job.number}.",
            url=reverse("jobs:job", args=[job.pk]),
            verb="Open job",
            icon="money",
            due_on=on,
        )
        for job in _shot_jobs()
        if may_draft_rest(job)
    ]
    return items


def _shot_jobs() -> Iterable[Job]:
    shot = Job.objects.filter(stage__in=[JobStage.SHOT, JobStage.DELIVERED])
    return shot.select_related("client")


def _in(amounts: Iterable[Money], currency: str) -> list[Money]:
    """Leave out what was agreed in another currency: sums of two mean nothing."""
    return [amount for amount in amounts if amount.currency == currency]
