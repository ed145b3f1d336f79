"""What is done to a job in one press, or after one more question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.bookings.queries import session_to_show
from jobs.bookings.sessions import call_job_off, finish_session, give_job_up
from jobs.jobs.forms import BecauseForm, LostForm
from jobs.jobs.models import Job
from jobs.jobs.operations import mark_delivered, reopen_job
from jobs.jobs.queries import sitting_of
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """How a job may end without pictures: what is asked, and what is said after."""

    title: str
    warning: str
    hint: str
    verb: str
    done: str
    end: Callable[..., Job]
    form: type[BecauseForm] = BecauseForm


LOST: Final = Ending(
    title="Not taken",
    warning="The job is closed, and a session that is held is free again.",
    hint="Such as another date was wanted, or the price",
    verb="Close the job",
    done="The job is closed as not taken.",
    end=give_job_up,
    form=LostForm,
)
CANCELLED: Final = Ending(
    title="Call the job off",
    warning=(
        "Its sessions are called off and what they hold is free. Invoices and payments "
        "stay as they are: settle them under Money."
    ),
    hint="Such as illness, or the weather",
    verb="Call it off",
    done="The job is called off.",
    end=call_job_off,
)


@may("job.edit")
@require_http_methods(["GET", "POST"])
def job_shot(request: HttpRequest, job_id: int) -> HttpResponse:
    """Note that the session is over; asks once more where it is still to come."""
    job = _job(job_id)
    if request.method == "POST":
        return _do(request, job, finish_session, "Marked as shot.")
    context = {"job": job, "session": session_to_show(job) or sitting_of(job)}
    return render(request, "jobs/jobs/shot.html", context)


@may("job.edit")
@require_POST
def job_delivered(request: HttpRequest, job_id: int) -> HttpResponse:
    """Note that the client has the pictures."""
    return _do(request, _job(job_id), mark_delivered, "Marked as delivered.")


@may("job.edit")
@require_POST
def job_reopen(request: HttpRequest, job_id: int) -> HttpResponse:
    """Take a job up again that was closed as not taken."""
    return _do(request, _job(job_id), reopen_job, "The job is open again.")


@may("job.edit")
@require_http_methods(["GET", "POST"])
def job_lost(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask why a job was not taken, then close it."""
    return _end(request, job_id, LOST)


@may("job.edit")
@require_http_methods(["GET", "POST"])
def job_cancel(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask why a booked job is called off, then call it off."""
    return _end(request, job_id, CANCELLED)


def _end(request: HttpRequest, job_id: int, ending: Ending) -> HttpResponse:
    job = _job(job_id)
    form = ending.form(request.POST if request.method == "POST" else None)
    form.fields["because"].help_text = ending.hint
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        try:
            ending.end(job_id=job.pk, **form.cleaned_data, by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, ending.done)
            return redirect(job)
    context = {"job": job, "form": form, "ending": ending}
    return render(request, "jobs/jobs/ending.html", context)


def _do(
    request: HttpRequest, job: Job, act: Callable[..., Job], done: str
) -> HttpResponse:
    try:
        act(job_id=job.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, done)
    return redirect(job)


def _job(job_id: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client"), pk=job_id)
