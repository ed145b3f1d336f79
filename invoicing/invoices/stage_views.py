"""The page on which a stage of a job is drafted."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.forms import StageForm
from invoicing.invoices.staging import draft_stage_invoice, rest_to_stage, why_no_stage
from invoicing.quotes.queries import accepted_order
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("invoice.draft")
@require_http_methods(["GET", "POST"])
def stage_draft(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask what a stage is for and what it comes to, then draft its invoice."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    order = accepted_order(job_id=job.pk)
    why_not = "There is no accepted quote to invoice from."
    if order is None or (why_not := why_no_stage(job)):
        messages.error(request, why_not)
        return redirect(job)
    profile = StudioProfile.load()
    form = StageForm(
        request.POST if request.method == "POST" else None,
        currency=order.content.currency,
        tax_name=profile.tax_name if profile.tax_registered else "",
    )
    if form.is_valid():
        what, by = form.cleaned_data["what"], staff(request).user
        try:
            made = draft_stage_invoice(
                order=order, minor=form.minor, what=what, by=by, at=timezone.now()
            )
        except DomainError as refusal:
            form.add_error("amount", str(refusal))
        else:
            return redirect(made)
    context = {"job": job, "form": form, "rest": rest_to_stage(order, job)}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/invoices/stage.html", context, status=status)
