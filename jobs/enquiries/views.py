"""The public form, the answer to an enquiry, and where jobs come from."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.enquiries.forms import AnsweredForm, PublicForm, ReplyForm, opened_stamp
from jobs.enquiries.operations import send_reply, take_written
from jobs.enquiries.queries import TEXTS, by_reason, by_source, reply_text
from jobs.jobs.models import Job
from jobs.jobs.operations import note_answer
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may, open_to_all
from studio.profile.models import StudioProfile
from studio.visitors import Limit, address_of, is_over

PAGES: Final = "jobs/enquiries/"
FROM_ONE: Final = Limit("enquiries-from-one", 5, timedelta(hours=1))
FROM_ALL: Final = Limit("enquiries-from-all", 60, timedelta(days=1))
NUDGE_AFTER: Final = timedelta(days=7)


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def enquire(request: HttpRequest) -> HttpResponse:
    """Let anybody write four answers to the studio, where its owner wants that."""
    _only_if_open()
    at = timezone.now()
    posted = request.method == "POST"
    form = PublicForm(request.POST if posted else None, at=at)
    if posted and form.is_by_a_program:
        return redirect("jobs:enquire_thanks")
    if form.is_valid():
        if is_over(FROM_ONE, address_of(request)) or is_over(FROM_ALL):
            return render(request, f"{PAGES}busy.html", status=429)
        try:
            take_written(written=form.written(), at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("jobs:enquire_thanks")
    context = {"form": form, "opened": opened_stamp(at)}
    status = 422 if posted else 200
    return render(request, f"{PAGES}enquire.html", context, status=status)


@open_to_all
@require_safe
def enquire_thanks(request: HttpRequest) -> HttpResponse:
    """Say that it has come, and by when an answer does."""
    _only_if_open()
    return render(request, f"{PAGES}thanks.html")


@may("job.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def reply(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show an answer to start from, and send it as it was changed."""
    job = get_object_or_404(Job.objects.select_related("client", "owner"), pk=job_id)
    at = timezone.now()
    if request.method == "POST":
        form = ReplyForm(request.POST)
        if form.is_valid() and _sent(request, job, form):
            messages.success(request, f"The answer goes to {job.client.email}.")
            return redirect(job)
    else:
        kind = request.GET.get("text", "both")
        on = at.astimezone(StudioProfile.load().zone).date()
        initial = {
            "subject": f"Your enquiry: {job.title}"[:150],
            "words": reply_text(kind, job, at=at),
            "nudge_on": job.nudge_on or on + NUDGE_AFTER,
        }
        form = ReplyForm(initial=initial)
    context = {
        "job": job,
        "form": form,
        "texts": TEXTS,
        "chosen": request.GET.get("text", "both"),
    }
    return render(request, f"{PAGES}reply.html", context)


@may("job.edit")
@require_POST
def answered(request: HttpRequest, job_id: int) -> HttpResponse:
    """Note that an enquiry was answered by other means."""
    job = get_object_or_404(Job, pk=job_id)
    form = AnsweredForm(request.POST)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        nudge_on = form.cleaned_data["nudge_on"]
        note_answer(job_id=job.pk, nudge_on=nudge_on, by=by, at=at)
        messages.success(request, "It is noted that you answered.")
    else:
        messages.error(request, str(form.errors["nudge_on"][0]))
    return redirect(job)


@may("job.see")
@require_safe
def sources(request: HttpRequest) -> HttpResponse:
    """Show a year's enquiries by where they came from, and why some were lost."""
    at = timezone.now()
    context = {"sources": by_source(at=at), "reasons": by_reason(at=at)}
    return render(request, f"{PAGES}sources.html", context)


def _only_if_open() -> None:
    if not StudioProfile.load().enquiry_form_open:
        raise Http404


def _sent(request: HttpRequest, job: Job, form: ReplyForm) -> bool:
    try:
        send_reply(
            job_id=job.pk,
            reply=form.reply(),
            by=staff(request).user,
            at=timezone.now(),
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return False
    return True
