"""What jobs show on their own page and on Today."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Literal

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.text import Truncator

from jobs.bookings.words import days_off
from jobs.clients.queries import doubles_of
from jobs.jobs.models import Job
from jobs.jobs.queries import job_history
from jobs.jobs.states import JobStage
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.models import StudioProfile
from studio.wording import day_short

PICTURES_SOON = timedelta(days=7)
SHOWN_ENTRIES = 5


@show_on("job.side", action="history.see", order=90)
def history_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what happened to the job, the newest first."""
    lines = job_history(job)
    context = {"shown": lines[:SHOWN_ENTRIES], "more": lines[SHOWN_ENTRIES:]}
    return render_to_string("jobs/jobs/_history.html", context, request)


@show_on("job.side", action="client.merge", order=15)
def doubles_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show whom a new enquiry's client may be twice."""
    if job.stage != JobStage.ENQUIRY:
        return ""
    context = {
        "client": job.client,
        "doubles": doubles_of(job.client),
        "actions": {"client.merge"},
    }
    return render_to_string("jobs/clients/_doubles.html", context, request)


@on_today(action="job.edit", hat=Hat.OWNER)
def enquiries_to_answer(person: Person, at: datetime) -> list[TodayItem]:
    """Give the enquiries that nobody has answered, the longest promised first."""
    zone = StudioProfile.load().zone
    on = at.astimezone(zone).date()
    waiting = Job.objects.filter(
        stage=JobStage.ENQUIRY, answered_at__isnull=True
    ).select_related("client", "owner")
    return [
        _to_answer(job, on, job.enquired_at.astimezone(zone).date())
        for job in waiting.order_by("reply_by_on", "pk")[:20]
    ]


@on_today(action="job.edit", hat=Hat.OWNER)
def enquiries_to_nudge(person: Person, at: datetime) -> list[TodayItem]:
    """Give those who were answered and said nothing since."""
    on = at.astimezone(StudioProfile.load().zone).date()
    silent = Job.objects.to_nudge(by=on).select_related("client")
    return [
        TodayItem(
            group=_group(job.nudge_on, on),
            title=f"Ask {job.client} again about {_what(job)}",
            reason=f"You wanted to ask again on {day_short(job.nudge_on)}.",
            url=reverse("jobs:reply", args=[job.pk]),
            verb="Write",
            icon="mail",
            due_on=job.nudge_on,
        )
        for job in silent.order_by("nudge_on", "pk")[:20]
        if job.nudge_on
    ]


@on_today(action="job.edit", hat=Hat.OWNER)
def pictures_to_hand_over(person: Person, at: datetime) -> list[TodayItem]:
    """Give the jobs whose pictures were promised for these days, or before."""
    on = at.astimezone(StudioProfile.load().zone).date()
    shot = Job.objects.filter(
        stage=JobStage.SHOT, pictures_by_on__lte=on + PICTURES_SOON
    )
    return [
        TodayItem(
            group=_group(job.pictures_by_on, on),
            title=f"Hand over the pictures of {job.title}",
            reason=f"Promised for {day_short(job.pictures_by_on)}. {job.client}.",
            url=reverse("jobs:job", args=[job.pk]),
            verb="Open job",
            icon="camera",
            due_on=job.pictures_by_on,
        )
        for job in shot.select_related("client").order_by("pictures_by_on", "pk")[:20]
        if job.pictures_by_on
    ]


def _to_answer(job: Job, on: date, came_on: date) -> TodayItem:
    wish = Truncator(" ".join(job.wish.split())).chars(80)
    promised = f"{job.owner} promised an answer by {day_short(job.reply_by_on)}."
    return TodayItem(
        group=_group(job.reply_by_on, on),
        title=f"Answer {job.client} about {_what(job)}",
        reason=f"Came {days_off(came_on, on)}, {day_short(came_on)}. {promised}"
        + (f" “{wish}”" if wish else ""),
        url=reverse("jobs:job", args=[job.pk]),
        verb="Start quote",
        icon="pen",
        due_on=job.reply_by_on,
        about=f"answer:{job.pk}",
    )


def _what(job: Job) -> str:
    """Return what a job is called, its client not named a second time."""
    return job.title.removeprefix(f"{job.client}, ")


def _group(due: date, on: date) -> Literal["late", "today", "soon"]:
    if due < on:
        return "late"
    return "today" if due == on else "soon"
