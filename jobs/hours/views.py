"""The page of the time worked on a job, and its clock."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.hours.forms import TimeForm
from jobs.hours.models import WorkedTime
from jobs.hours.operations import (
    NoClockError,
    drop_time,
    note_time,
    start_clock,
    stop_clock,
)
from jobs.hours.queries import time_words, work_on
from jobs.jobs.models import Job
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may


@may("job.edit")
@require_http_methods(["GET", "POST"])
def hours(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the time worked on a job, and take down more."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    person = staff(request)
    data = request.POST if request.method == "POST" else None
    form = TimeForm(data, initial={"stage": job.stage})
    if form.is_valid():
        by, at = person.user, timezone.now()
        note_time(job=job, **form.cleaned_data, by=by, at=at)
        messages.success(request, "The time is noted.")
        return redirect("jobs:hours", job.pk)
    work = work_on(job, person=person.user)
    context = {
        "job": job,
        "form": form,
        "work": work,
        "lines": [(one, time_words(one.minutes or 0)) for one in work.lines],
        "pay": draw_panels("job.hours", person, work),
    }
    return render(request, "jobs/hours/hours.html", context)


@may("job.edit")
@require_POST
def clock_start(request: HttpRequest, job_id: int) -> HttpResponse:
    """Let one's clock run for a job."""
    job = get_object_or_404(Job, pk=job_id)
    start_clock(job=job, by=staff(request).user, at=timezone.now())
    messages.success(request, "Your clock runs for this job.")
    return redirect(job)


@may("job.edit")
@require_POST
def clock_stop(request: HttpRequest, job_id: int) -> HttpResponse:
    """Stop one's clock."""
    job = get_object_or_404(Job, pk=job_id)
    try:
        worked = stop_clock(by=staff(request).user, at=timezone.now())
    except NoClockError as refusal:
        messages.error(request, str(refusal))
    else:
        words = time_words(worked.minutes or 0)
        messages.success(request, f"Noted: {words} on {worked.job}.")
    return redirect(job)


@may("job.edit")
@require_POST
def time_drop(request: HttpRequest, job_id: int, worked_id: int) -> HttpResponse:
    """Take a line of worked time back."""
    worked = get_object_or_404(WorkedTime, pk=worked_id, job_id=job_id)
    drop_time(worked_id=worked.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "The line is gone.")
    return redirect("jobs:hours", job_id)
