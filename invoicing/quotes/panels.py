"""What quotes show on the job's page and on Today."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.text import Truncator

from invoicing.quotes.licences import licences_of
from invoicing.quotes.models import Quote
from invoicing.quotes.queries import (
    drafts_to_send,
    lapsed_unanswered,
    open_questions,
    total_of,
    waiting_for_yes,
)
from invoicing.quotes.reminding import is_due
from invoicing.quotes.shared import versions_on
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
WEEK = timedelta(days=7)
MOST_NAMED = 3
_NUMBERS = {2: "Two", 3: "Three", 4: "Four", 5: "Five", 6: "Six", 7: "Seven"}


@show_on("job.acts", action="quote.see", order=10)
def quote_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Give the way to the job's quote."""
    rows = versions_on(request, job)
    quote = rows[0].quote if rows else None
    if quote is None and not request.user.may("quote.draft"):
        return ""
    context = {"job": job, "quote": quote}
    return render_to_string("invoicing/quotes/_button.html", context, request)


@show_on("job.side", action="quote.see", order=30)
def quotes_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the job's quotes and the yes that one of them got."""
    rows = versions_on(request, job)
    if not rows:
        return ""
    accepted = [row.quote for row in rows if row.quote.state == QuoteState.ACCEPTED]
    acceptance = accepted[0].acceptance if accepted else None
    context = {
        "job": job,
        "rows": rows,
        "acceptance": acceptance,
        "licences": licences_of(job, acceptance),
        "questions": [one for one in open_questions() if one.quote.job_id == job.pk],
    }
    return render_to_string("invoicing/quotes/_job_panel.html", context, request)


@on_today(action="quote.send", hat=Hat.OWNER)
def quotes_to_do(person: Person, at: datetime) -> list[TodayItem]:
    """Give quotes to send, and quotes that wait long or whose price lapses."""
    on = at.astimezone(StudioProfile.load().zone).date()
    items = [_to_send(quote, on) for quote in drafts_to_send()]
    waiting = waiting_for_yes(on=on)
    this_week = [quote for quote in waiting if on < quote.valid_until_on <= on + WEEK]
    if len(this_week) > 1:
        items.append(_run_out(this_week))
        waiting = [quote for quote in waiting if quote not in this_week]
    items += [
        _to_ask(quote, on, remind=is_due(quote, at=at))
        for quote in waiting
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


def _run_out(quotes: list[Quote]) -> TodayItem:
    first = quotes[0].valid_until_on
    each = [
        f"{quote.job.client}, {money_words(total_of(quote))}, until "
        f"{quote.valid_until_on:%A}"
        for quote in quotes[:MOST_NAMED]
    ]
    more = len(quotes) - len(each)
    told = [*each, f"and {more} more"] if more else each
    return TodayItem(
        group="soon",
        title=f"{_NUMBERS.get(len(quotes), str(len(quotes)))} quotes run out this week",
        reason=f"{'; '.join(told)}.",
        url=reverse("invoicing:quotes"),
        verb="Remind",
        icon="phone",
        due_on=first,
    )


def _to_ask(quote: Quote, on: date, *, remind: bool) -> TodayItem:
    left = (quote.valid_until_on - on).days
    holds = f"holds until {quote.valid_until_on.day} {quote.valid_until_on:%B}"
    if left == 0:
        holds = "holds until tonight"
    return TodayItem(
        group="today" if left == 0 else "soon",
        title=f"Ask {quote.job.client} about {quote.number}",
        reason=f"{money_words(total_of(quote))}, {_sent_words(quote, on)}. It {holds}.",
        url=(
            reverse("invoicing:quote_remind", args=[quote.pk])
            if remind and quote.job.client.email
            else quote.get_absolute_url()
        ),
        verb="Remind" if remind and quote.job.client.email else "Open quote",
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
