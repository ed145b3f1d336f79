"""Pages of jobs: the enquiry, the list, and the job as the hub of all."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.bookings.shared import session_on
from jobs.bookings.words import session_words
from jobs.clients.models import Client
from jobs.jobs.forms import EnquiryForm, JobFilterForm, JobForm
from jobs.jobs.models import Job
from jobs.jobs.next_step import next_step
from jobs.jobs.operations import change_job, promise_answer, take_enquiry
from jobs.jobs.queries import (
    SITTING,
    JobFilter,
    list_jobs,
    sitting_of,
    still_to_come,
)
from jobs.jobs.states import JobStage
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("job.edit")
@require_http_methods(["GET", "POST"])
def enquiry_new(request: HttpRequest) -> HttpResponse:
    """Turn an enquiry into a client and a job."""
    data = request.POST if request.method == "POST" else None
    form = EnquiryForm(data, client=_client_named(request))
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = take_enquiry(caller=form.caller(), enquiry=form.enquiry(), by=by, at=at)
        messages.success(request, f"{made.number} is open for {made.client}.")
        if "quote" in request.POST:
            return redirect(reverse("invoicing:quote_start", args=[made.pk]))
        return redirect(made)
    return render(request, "jobs/jobs/enquiry.html", {"form": form})


@may("job.edit")
@require_safe
def enquiry_known(request: HttpRequest) -> HttpResponse:
    """Ask whether a caller is somebody known, as name and number are typed."""
    form = EnquiryForm(request.GET)
    form.is_valid()
    asked = form["known"] if "known" in form.fields else None
    if asked is not None:
        form.errors.pop("known", None)
    return render(request, "jobs/jobs/_known.html", {"field": asked})


@may("job.see")
@require_safe
def jobs(request: HttpRequest) -> HttpResponse:
    """List the open jobs, or those that the filter keeps."""
    form = JobFilterForm(request.GET)
    form.is_valid()
    chosen = JobFilter(
        show=form.cleaned_data.get("show") or "open",
        words=form.cleaned_data.get("q", ""),
        by_session=form.cleaned_data.get("sort") == "session",
    )
    at = timezone.now()
    context = {
        "list": list_jobs(chosen, page=request.GET.get("page", "1"), at=at),
        "chosen": chosen,
        "shown": form.fields["show"].choices,  # type: ignore[attr-defined]
        "today": at.astimezone(StudioProfile.load().zone).date(),
    }
    return render(request, "jobs/jobs/jobs.html", context)


@may("job.see")
@require_safe
def job(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show a job and everything that hangs on it."""
    jobs = Job.objects.select_related("client", "owner", SITTING)
    found = get_object_or_404(jobs, pk=job_id)
    person, at = staff(request), timezone.now()
    booking = session_on(person, found)
    sitting = None if booking else sitting_of(found)
    session = booking or sitting
    home = StudioProfile.load().zone
    context = {
        "job": found,
        "sitting": sitting,
        "still_to_come": still_to_come(found.stage),
        "next_step": next_step(found, session, at=at),
        "booking": booking,
        "when": session_words(booking, at=at, home=home) if booking else None,
        "is_new": found.stage in {JobStage.ENQUIRY, JobStage.QUOTED},
        "is_over": session is None or session.ends_at <= at,
        **{
            place: draw_panels(f"job.{place}", person, found)
            for place in ("acts", "wide", "main", "side")
        },
    }
    return render(request, "jobs/jobs/job.html", context)


@may("job.edit")
@require_http_methods(["GET", "POST"])
def job_edit(request: HttpRequest, job_id: int) -> HttpResponse:
    """Change what a job is called and what was asked for."""
    found = get_object_or_404(Job, pk=job_id)
    names = JobForm.base_fields
    data = request.POST if request.method == "POST" else None
    form = JobForm(data, initial={name: getattr(found, name) for name in names})
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        change_job(job_id=found.pk, enquiry=form.enquiry(), by=by, at=at)
        promise_answer(
            job_id=found.pk,
            owner=form.cleaned_data["owner"],
            reply_by_on=form.cleaned_data["reply_by_on"],
            by=by,
            at=at,
        )
        messages.success(request, "The job is changed.")
        return redirect(found)
    context = {
        "form": form,
        "title": f"Change {found.number}",
        "crumbs": [(reverse("jobs:jobs"), "Jobs"), (found.get_absolute_url(), found)],
        "back": found.get_absolute_url(),
    }
    return render(request, "jobs/form.html", context)


def _client_named(request: HttpRequest) -> Client | None:
    wanted = request.GET.get("client", "")
    if not (wanted.isascii() and wanted.isdigit() and len(wanted) < 18):
        return None
    return Client.objects.filter(pk=wanted).first()
