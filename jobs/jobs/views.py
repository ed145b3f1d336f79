"""Pages of jobs: the enquiry, the list, and the job as the hub of all."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.jobs.forms import EnquiryForm, LostForm
from jobs.jobs.models import Job
from jobs.jobs.operations import (
    Enquiry,
    close_as_lost,
    mark_delivered,
    mark_shot,
    open_job,
)
from studio.errors import DomainError
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may


@may("job.edit")
@require_http_methods(["GET", "POST"])
def enquiry_new(request: HttpRequest) -> HttpResponse:
    """Turn an enquiry into a client and a job."""
    form = EnquiryForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        made = _open(request, form)
        messages.success(request, f"{made.number} is open.")
        if "quote" in request.POST:
            return redirect("invoicing:quote_start", made.pk)
        return redirect(made)
    return render(request, "jobs/jobs/enquiry.html", {"form": form})


@transaction.atomic
def _open(request: HttpRequest, form: EnquiryForm) -> Job:
    by, at, data = staff(request).user, timezone.now(), form.cleaned_data
    known = Client.objects.filter(name__iexact=data["name"])
    if data["email"]:
        known = known.filter(email__iexact=data["email"])
    client = known.first() or add_client(
        details=ClientDetails(
            name=data["name"], email=data["email"], phone=data["phone"]
        ),
        by=by,
        at=at,
    )
    first = data["wish"].strip().splitlines()[0]
    title = first if len(first) <= 80 else f"{first[:77].rstrip()}…"
    enquiry = Enquiry(title=title, wish=data["wish"], wished_on=data["wished_on"])
    return open_job(client=client, enquiry=enquiry, by=by, at=at)


@may("job.see")
@require_safe
def jobs(request: HttpRequest) -> HttpResponse:
    """List the open jobs, or all."""
    every = request.GET.get("show") == "all"
    found = Job.objects.all() if every else Job.objects.open()
    rows = found.select_related("client").prefetch_related("bookings__place")
    context = {"jobs": rows.order_by("-enquired_at")[:300], "every": every}
    return render(request, "jobs/jobs/jobs.html", context)


@may("job.see")
@require_safe
def job(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show a job and everything that hangs on it."""
    found = get_object_or_404(Job.objects.select_related("client", "owner"), pk=job_id)
    person = staff(request)
    bookings = found.bookings.select_related("place").order_by("starts_at")
    context = {
        "job": found,
        "booking": bookings.live().last(),
        "acts": draw_panels("job.acts", person, found),
        "main": draw_panels("job.main", person, found),
        "side": draw_panels("job.side", person, found),
    }
    return render(request, "jobs/jobs/job.html", context)


@may("job.edit")
@require_POST
def job_act(request: HttpRequest, job_id: int, act: str) -> HttpResponse:
    """Note that a job was shot or its pictures delivered."""
    found = get_object_or_404(Job, pk=job_id)
    by, at = staff(request).user, timezone.now()
    try:
        if act == "shot":
            mark_shot(job_id=found.pk, by=by, at=at)
        else:
            mark_delivered(job_id=found.pk, by=by, at=at)
    except DomainError as refusal:
        messages.error(request, str(refusal))
    return redirect(found)


@may("job.edit")
@require_http_methods(["GET", "POST"])
def job_lost(request: HttpRequest, job_id: int) -> HttpResponse:
    """Close a job that the client did not take."""
    found = get_object_or_404(Job, pk=job_id)
    form = LostForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            close_as_lost(
                job_id=found.pk,
                because=form.cleaned_data["because"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect(found)
    context = {"form": form, "title": "Not taken", "back": found.get_absolute_url()}
    return render(request, "jobs/form.html", context)
