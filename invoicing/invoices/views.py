"""Pages of invoices: the list, an invoice, a draft, a credit note."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.einvoices.terms import refusal
from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.forms import (
    CreditForm,
    DraftForm,
    DraftLines,
    change_from,
)
from invoicing.invoices.issuing import credit_invoice, issue_invoice
from invoicing.invoices.models import DocumentKind, Invoice, InvoiceDraft
from invoicing.invoices.operations import (
    change_draft,
    draft_balance_invoice,
    drop_draft,
)
from invoicing.invoices.printed import printed_invoice
from invoicing.invoices.queries import (
    draft_total,
    row_of,
)
from invoicing.quotes.queries import accepted_order
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import download, staff
from studio.mail.models import Message
from studio.people.access import may
from studio.profile.models import StudioProfile


def studio_today() -> date:
    """Return the day by the studio's clock."""
    return timezone.now().astimezone(StudioProfile.load().zone).date()


@may("invoice.see")
@require_safe
def invoice(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Show one issued paper: what it says, what was paid, what it corrects."""
    related = Invoice.objects.with_balance().select_related("client", "job", "corrects")
    found = get_object_or_404(related, pk=invoice_id)
    context = {
        "invoice": found,
        "row": row_of(found, on=studio_today()),
        "printed": printed_invoice(found.snapshot),
        "payments": found.allocations.select_related("payment__reversal").order_by(
            "pk"
        ),
        "credit_notes": found.credit_notes.all(),
        "mail": Message.objects.about(found),
        "document": found.documents.filter(kind=DocumentKind.PDF)
        .select_related("file")
        .first(),
        "no_data": refusal(found.snapshot),
    }
    return render(request, "invoicing/invoices/invoice.html", context)


@may("invoice.see")
@require_safe
def invoice_pdf(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Give the paper's bytes, made now if the sweep has not come yet."""
    found = get_object_or_404(Invoice, pk=invoice_id)
    file = finish_document(invoice_id=found.pk, at=timezone.now())
    return download(
        name=file.name, content_type=file.content_type, content=bytes(file.content)
    )


@may("invoice.draft")
@require_http_methods(["GET", "POST"])
def draft(request: HttpRequest, draft_id: int) -> HttpResponse:
    """Show a draft, change it, or issue it."""
    found = get_object_or_404(InvoiceDraft.objects.select_related("job"), pk=draft_id)
    if found.is_issued:
        return redirect(found.invoice)
    if request.method == "POST" and "add_line" in request.POST:
        lines = DraftLines(more_lines(request.POST, prefix="line"), prefix="line")
        return _draft_page(request, found, DraftForm(request.POST), lines)
    if request.method == "POST":
        return _save_draft(request, found)
    return _draft_page(request, found, *_draft_forms(found))


def _save_draft(request: HttpRequest, found: InvoiceDraft) -> HttpResponse:
    form = DraftForm(request.POST)
    lines = DraftLines(request.POST, prefix="line")
    if not (form.is_valid() and lines.is_valid()):
        return _draft_page(request, found, form, lines)
    by, at = staff(request).user, timezone.now()
    currency = found.read_content.currency
    kept = tuple(
        one.line(currency)
        for one in lines
        if one.cleaned_data and not one.cleaned_data.get("DELETE")
    )
    try:
        change_draft(
            draft_id=found.pk,
            change=change_from(form, kept),
            version=form.cleaned_data["version"],
            by=by,
            at=at,
        )
        if "issue" not in request.POST:
            messages.success(request, "The draft is saved.")
            return redirect(found)
        return _issue(request, found)
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return _draft_page(request, found, form, lines)


def _issue(request: HttpRequest, found: InvoiceDraft) -> HttpResponse:
    at = timezone.now()
    issued = issue_invoice(draft_id=found.pk, by=staff(request).user, at=at)
    if "send" in request.POST:
        write_letter(issued, at=at)
    finish_document(invoice_id=issued.pk, at=at)
    messages.success(request, f"Invoice {issued.number} is issued.")
    return redirect(issued)


def _draft_forms(found: InvoiceDraft) -> tuple[DraftForm, object]:
    content = found.read_content
    initial = [
        {
            "description": line.description,
            "quantity": line.quantity,
            "price": line.priced(content.currency).unit_price,
            "rate": line.rate.normalize(),
        }
        for line in content.lines
    ]
    form = DraftForm(
        initial={
            "due_days": found.due_days,
            "note": found.note,
            "version": found.version,
        }
    )
    return form, DraftLines(initial=initial, prefix="line")


def _draft_page(
    request: HttpRequest, found: InvoiceDraft, form: DraftForm, lines: object
) -> HttpResponse:
    bad = (form.is_bound and not form.is_valid()) or "add_line" in request.POST
    context = {
        "draft": found,
        "form": form,
        "lines": lines,
        "content": found.read_content,
        "totals": found.read_content.totals(),
        "total": draft_total(found),
    }
    status = 422 if bad and "add_line" not in request.POST else 200
    return render(request, "invoicing/invoices/draft.html", context, status=status)


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


@may("invoice.credit")
@require_http_methods(["GET", "POST"])
def invoice_credit(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Ask why, then take an invoice back by a credit note."""
    found = get_object_or_404(Invoice.objects.with_balance(), pk=invoice_id)
    form = CreditForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        at = timezone.now()
        try:
            credit = credit_invoice(
                invoice_id=found.pk,
                because=form.cleaned_data["because"],
                by=staff(request).user,
                at=at,
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            if form.cleaned_data["send"]:
                write_letter(credit, at=at)
            finish_document(invoice_id=credit.pk, at=at)
            messages.success(request, f"Credit note {credit.number} is issued.")
            return redirect(credit)
    context = {"invoice": found, "row": row_of(found, on=studio_today()), "form": form}
    return render(request, "invoicing/invoices/credit.html", context)


@may("invoice.send")
@require_POST
def invoice_send(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Put the paper's letter into the outbox; a second time does nothing more."""
    found = get_object_or_404(Invoice, pk=invoice_id)
    at = timezone.now()
    if write_letter(found, at=at) is None:
        messages.error(request, f"{found.client} has no e-mail address yet.")
    else:
        finish_document(invoice_id=found.pk, at=at)
        messages.success(request, f"{found.number} is on its way.")
    return redirect(found)
