"""What quotes show on the job's page and on Today."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.utils.text import Truncator

from invoicing.quotes.models import Quote
from invoicing.quotes.queries import (
    drafts_to_send,
    lapsed_unanswered,
    open_questions,
    total_of,
    versions_of,
    waiting_for_yes,
)
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
LAPSES_SOON = timedelta(days=3)


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
    rows = versions_of(job)
    if not rows:
        return ""
    accepted = [row.quote for row in rows if row.quote.state == QuoteState.ACCEPTED]
    context = {
        "job": job,
        "rows": rows,
        "acceptance": accepted[0].acceptance if accepted else None,
        "questions": [one for one in open_questions() if one.quote.job_id == job.pk],
    }
    return render_to_string("invoicing/quotes/_job_panel.html", context, request)


@on_today(action="quote.send", hat=Hat.OWNER)
def quotes_to_do(person: Person, at: datetime) -> list[TodayItem]:
    """Give quotes to send, and quotes that wait long or whose price lapses."""
    on = at.astimezone(StudioProfile.load().zone).date()
    items = [_to_send(quote, on) for quote in drafts_to_send()]
    items += [
        _to_ask(quote, on)
        for quote in waiting_for_yes(on=on)
        if _waits_long(quote, at) or quote.valid_until_on - on <= LAPSES_SOON
    ]
    return items + [_lapsed(quote) for quote in lapsed_unanswered()]


@on_today(action="quote.draft", hat=Hat.OWNER)
def questions_to_answer(person: Person, at: datetime) -> list[TodayItem]:
    """Give what clients asked on their private pages."""
    on = at.astimezone(StudioProfile.load().zone).date()
    return [
        TodayItem(
            group="today",
            title=f"Answer {question.quote.job.client} about {question.quote.number}",
            reason=f"“{Truncator(' '.join(question.words.split())).chars(120)}”",
            url=question.quote.get_absolute_url(),
            verb="Read",
            icon="mail",
            due_on=on,
        )
        for question in open_questions()
    ]


def _to_send(quote: Quote, on: date) -> TodayItem:
    total = money_words(total_of(quote))
    by = quote.drafted_by
    eye = "" if by.may("quote.send") else f", drafted by {by}: it needs your eye"
    late = quote.job.stage == JobStage.ENQUIRY and quote.job.reply_by_on < on
    return TodayItem(
        group="late" if late else "today",
        title=f"Send the quote to {quote.job.client}",
        reason=f"{quote.job.title}, {total}, {quote}{eye}.",
        url=quote.get_absolute_url(),
        verb="Review",
        icon="arrow",
        due_on=quote.job.reply_by_on if late else on,
        about=f"answer:{quote.job_id}",
    )


def _to_ask(quote: Quote, on: date) -> TodayItem:
    left = (quote.valid_until_on - on).days
    holds = f"holds until {quote.valid_until_on.day} {quote.valid_until_on:%B}"
    if left == 0:
        holds = "holds until tonight"
    return TodayItem(
        group="today" if left == 0 else "soon",
        title=f"Ask {quote.job.client} about {quote.number}",
        reason=f"{money_words(total_of(quote))}, {_sent_words(quote, on)}. It {holds}.",
        url=quote.get_absolute_url(),
        verb="Open quote",
        icon="phone",
        due_on=quote.valid_until_on,
    )


def _lapsed(quote: Quote) -> TodayItem:
    day = f"{quote.valid_until_on.day} {quote.valid_until_on:%B}"
    return TodayItem(
        group="soon",
        title=f"{quote.number} for {quote.job.client} lapsed",
        reason=f"Its price held until {day}. Renew it, or close the job.",
        url=quote.get_absolute_url(),
        verb="Open quote",
        icon="clock",
        due_on=quote.valid_until_on,
    )


def _sent_words(quote: Quote, on: date) -> str:
    sent = (
        quote.sent_at.astimezone(StudioProfile.load().zone) if quote.sent_at else None
    )
    days = (on - sent.date()).days if sent else 0
    return {0: "sent today", 1: "sent yesterday"}.get(days, f"sent {days} days ago")


def _waits_long(quote: Quote, at: datetime) -> bool:
    return quote.sent_at is not None and at - quote.sent_at > WAITS_LONG
