"""Pages of drafts: writing one, issuing it, dropping it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from invoicing.invoices.before_issue import Facts, look_over
from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.dated_rates import OlderRates, at_rates_of, older_rates
from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.forms import DraftForm, DraftLines, change_from
from invoicing.invoices.issuing import issue_invoice, studio_day
from invoicing.invoices.models import InvoiceDraft
from invoicing.invoices.operations import (
    change_draft,
    draft_balance_invoice,
    drop_draft,
)
from invoicing.invoices.queries import draft_total
from invoicing.invoices.treatments import under
from invoicing.prices.rates import DatedRates
from invoicing.quotes.queries import accepted_order
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile, TaxCategory


@may("invoice.draft")
@require_http_methods(["GET", "POST"])
def draft(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Show a draft, change it, or issue it."""
    drafts = InvoiceDraft.objects.select_related("job__client")
    found = get_object_or_404(drafts, pk=draft_id)
    if found.is_issued:
        return redirect(found.invoice)
    profile = StudioProfile.load()
    if request.method != "POST":
        return _page(request, found, *_forms(found, profile))
    form = DraftForm(request.POST, profile=profile)
    if "add_line" in request.POST:
        more = more_lines(request.POST, prefix="line")
        return _page(request, found, form, _lines(found, profile, more))
    return _save(request, found, form, _lines(found, profile, request.POST))


def _save(
    request: HttpRequest, found: InvoiceDraft, form: DraftForm, lines: Any
) -> HttpResponse:
    if not (form.is_valid() and lines.is_valid()):
        return _page(request, found, form, lines)
    currency = found.read_content.currency
    kept = tuple(
        one.line(currency)
        for one in lines
        if one.cleaned_data and not one.cleaned_data.get("DELETE")
    )
    at = timezone.now()
    if "use_rates" in request.POST:
        kept = at_rates_of(kept, DatedRates.load(), studio_day(at))
    try:
        change_draft(
            draft_id=found.pk,
            change=change_from(form, kept),
            version=form.cleaned_data["version"],
            by=staff(request).user,
            at=at,
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return _page(request, found, form, lines)
    if "issue" in request.POST:
        return _issue(request, found)
    messages.success(request, "The draft is saved.")
    return redirect(found)


def _issue(request: HttpRequest, found: InvoiceDraft) -> HttpResponse:
    at = timezone.now()
    try:
        issued = issue_invoice(draft_id=found.pk, by=staff(request).user, at=at)
    except DomainError as refusal:  # the draft itself is saved by now
        messages.error(request, f"Saved, but not issued. {refusal}")
        return redirect(found)
    if "send" in request.POST:
        write_letter(issued, at=at)
    finish_document(invoice_id=issued.pk, at=at)
    messages.success(request, f"Invoice {issued.number} is issued.")
    return redirect(issued)


def _forms(found: InvoiceDraft, profile: StudioProfile) -> tuple[DraftForm, Any]:
    content = found.read_content
    form = DraftForm(
        profile=profile,
        initial={
            "treatment": content.treatment or TaxCategory.STANDARD,
            "due_days": found.due_days,
            "simplified": found.simplified,
            "note": found.note,
            "version": found.version,
        },
    )
    return form, _lines(found, profile, None)


def _lines(found: InvoiceDraft, profile: StudioProfile, data: Any) -> Any:
    content = found.read_content
    return DraftLines(
        data,
        initial=[_as_typed(line, content) for line in content.lines],
        prefix="line",
        form_kwargs={
            "currency": content.currency,
            "registered": profile.tax_registered,
        },
    )


def _as_typed(line: ContentLine, content: Content) -> dict[str, Any]:
    own = line.treatment if line.treatment != content.treatment else ""
    by_rate = own == TaxCategory.STANDARD and not content.treatment
    return {
        "description": line.description,
        "detail": line.detail,
        "unit": line.unit,
        "quantity": line.quantity,
        "price": line.priced(content.currency).unit_price,
        "rate": f"{line.tax_rate_basis_points / 100:g}",
        "treatment": "" if by_rate else own,
    }


def _page(
    request: HttpRequest, found: InvoiceDraft, form: DraftForm, lines: Any
) -> HttpResponse:
    bad = form.is_bound and "add_line" not in request.POST
    profile = StudioProfile.load()
    content = under(found.read_content, profile)
    facts = Facts(
        content=content,
        client=found.job.client,
        profile=profile,
        simplified=found.simplified,
    )
    older = _older(found, profile)
    for line, remark in zip(lines.forms, older.remarks, strict=False):
        line.remark = remark
    context = {
        "draft": found,
        "older": older,
        "form": form,
        "lines": lines,
        "content": content,
        "total": draft_total(found),
        "looked": look_over(facts),
        "registered": profile.tax_registered,
    }
    status = 422 if bad else 200
    return render(request, "invoicing/invoices/draft.html", context, status=status)


def _older(found: InvoiceDraft, profile: StudioProfile) -> OlderRates:
    rates = DatedRates.load() if profile.tax_registered else DatedRates()
    return older_rates(found.read_content, rates, studio_day(timezone.now()))


@may("invoice.draft")
@require_POST
def draft_drop(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Drop a draft that is not wanted."""
    found = get_object_or_404(InvoiceDraft, pk=draft_id)
    try:
        drop_draft(draft_id=found.pk, by=staff(request).user, at=timezone.now())
        messages.success(request, "The draft is dropped. No number was used.")
    except DomainError as refusal:
        messages.error(request, str(refusal))
    return redirect("invoicing:money")


@may("invoice.draft")
@require_POST
def balance_draft(request: HttpRequest, job_id: int) -> HttpResponse:
    """Draft the invoice for what is left of a job's order."""
    job = get_object_or_404(Job, pk=job_id)
    order = accepted_order(job_id=job.pk)
    if order is None:
        messages.error(request, "There is no accepted quote to invoice from.")
        return redirect(job)
    try:
        made = draft_balance_invoice(
            order=order, by=staff(request).user, at=timezone.now()
        )
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect(job)
    return redirect(made)
