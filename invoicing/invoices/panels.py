"""What invoices show on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import deposits_of, open_drafts
from invoicing.invoices.queries import draft_total, drafts_waiting, late_rows, row_of
from invoicing.invoices.states import Purpose
from invoicing.quotes.queries import accepted_order
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import money_words

WATCH, ISSUE = "Watch for the deposit of", "Issue the invoice to"


@show_on("job.main", action="invoice.see", order=70)
def invoices_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """List the job's invoices and what can be invoiced next."""
    on = timezone.now().astimezone(StudioProfile.load().zone).date()
    papers = Invoice.objects.filter(job=job).with_balance()
    papers = papers.select_related("client", "job").order_by("chain_sequence")
    rows = [row_of(one, on=on) for one in papers]
    context = {
        "job": job,
        "rows": rows,
        "credits": {one.pk for one in papers if one.is_credit_note},
        "drafts": [(draft, draft_total(draft)) for draft in open_drafts(job)],
        "may_draft_rest": may_draft_rest(job),
        "deposits": deposits_of(job),
    }
    return render_to_string("invoicing/invoices/_job_panel.html", context, request)


def may_draft_rest(job: Job) -> bool:
    """Say whether the rest of a job's order waits to be invoiced."""
    if job.stage not in (JobStage.BOOKED, JobStage.SHOT, JobStage.DELIVERED):
        return False
    final = [Purpose.BALANCE, Purpose.WHOLE]
    invoiced = job.invoices.filter(purpose__in=final, credit_notes__isnull=True)
    drafted = any(draft.purpose in final for draft in open_drafts(job))
    return not invoiced.exists() and not drafted and bool(accepted_order(job_id=job.pk))


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
    shot = Job.objects.filter(stage__in=[JobStage.SHOT, JobStage.DELIVERED])
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
        for job in shot.select_related("client")
        if may_draft_rest(job)
    ]
    return items
