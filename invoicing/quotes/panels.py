"""What quotes show on the job's page and on Today."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from invoicing.quotes.models import ClientQuestion, Quote
from invoicing.quotes.queries import figures_of, quotes_of, waiting_for_yes
from invoicing.quotes.states import QuoteState
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.models import StudioProfile
from studio.wording import money_words

WAITS_LONG = timedelta(days=5)


@show_on("job.acts", action="quote.see", order=10)
def quote_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Give the way to the job's quote."""
    quote = Quote.objects.of_job(job).first()
    if quote is None and not request.user.may("quote.draft"):
        return ""
    context = {"job": job, "quote": quote}
    return render_to_string("invoicing/quotes/_button.html", context, request)


@show_on("job.side", action="quote.see", order=30)
def quotes_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the job's quotes and the yes that one of them got."""
    quotes = quotes_of(job)
    if not quotes:
        return ""
    rows = [(one, figures_of(one).total) for one in quotes]
    accepted = next((one for one in quotes if one.state == QuoteState.ACCEPTED), None)
    context = {"job": job, "rows": rows, "accepted": accepted}
    return render_to_string("invoicing/quotes/_job_panel.html", context, request)


@on_today(action="quote.send", hat=Hat.OWNER)
def quotes_to_do(person: Person, at: datetime) -> list[TodayItem]:
    """Give quotes to send, quotes that wait long, and questions to answer."""
    on = at.astimezone(StudioProfile.load().zone).date()
    drafts = Quote.objects.filter(state=QuoteState.DRAFT)
    items = [
        TodayItem(
            group="today",
            title=f"Send the quote to {quote.job.client}",
            reason=f"Drafted by {quote.drafted_by}, {quote.number}. Needs your eye.",
            url=reverse("invoicing:quote", args=[quote.pk]),
            verb="Review",
            icon="arrow",
            due_on=on,
        )
        for quote in drafts.select_related("job__client", "drafted_by")
        if quote.job.stage in (JobStage.ENQUIRY, JobStage.QUOTED)
    ]
    items += [
        TodayItem(
            group="soon",
            title=f"Ask {quote.job.client} about {quote.number}",
            reason=(
                f"{money_words(figures_of(quote).total)}, sent "
                f"{(on - quote.sent_at.date()).days} days ago. The price holds until "
                f"{quote.valid_until_on.day} {quote.valid_until_on:%B}."
            ),
            url=quote.get_absolute_url(),
            verb="Open quote",
            icon="phone",
            due_on=quote.valid_until_on,
        )
        for quote in waiting_for_yes(on=on)
        if quote.sent_at and at - quote.sent_at > WAITS_LONG
    ]
    questions = ClientQuestion.objects.filter(answered_at__isnull=True)
    items += [
        TodayItem(
            group="today",
            title=f"Answer {question.quote.job.client}",
            reason=f"“{question.words[:90]}”",
            url=question.quote.get_absolute_url(),
            verb="Read",
            icon="mail",
            due_on=on,
        )
        for question in questions.select_related("quote__job__client")
    ]
    return items
