"""The page on which an invoice is taken back, whole or in part."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.credit_forms import CreditForm, CreditLineForm, billed_lines
from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.models import Invoice
from invoicing.invoices.queries import row_of
from invoicing.invoices.taking_back import credit_invoice, credited_of
from invoicing.invoices.views import studio_today
from studio.errors import DomainError
from studio.forms.problems import form_problems
from studio.http import staff
from studio.money import Money
from studio.people.access import may


@may("invoice.credit")
@require_http_methods(["GET", "POST"])
def invoice_credit(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Ask what is wrong and why, then issue a credit note."""
    found = get_object_or_404(Invoice.objects.with_balance(), pk=invoice_id)
    data = request.POST if request.method == "POST" else None
    credited = credited_of(found)
    form = CreditForm(data)
    lines = [CreditLineForm(data, billed=one) for one in billed_lines(credited)]
    checked = [one.is_valid() for one in [form, *lines]]
    form.look_at(lines)
    if all(checked) and form.is_valid():
        credit = _credit(request, found, form, lines)
        if credit is not None:
            return redirect(credit)
    kept = sum(taxable + tax for taxable, tax in credited.left.values())
    context = {
        "invoice": found,
        "row": row_of(found, on=studio_today()),
        "form": form,
        "lines": lines,
        "problems": [one for given in (form, *lines) for one in form_problems(given)],
        "left": Money.from_minor(kept, found.currency),
    }
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/invoices/credit.html", context, status=status)


def _credit(
    request: HttpRequest,
    found: Invoice,
    form: CreditForm,
    lines: list[CreditLineForm],
) -> Invoice | None:
    at = timezone.now()
    try:
        credit = credit_invoice(
            invoice_id=found.pk,
            because=form.cleaned_data["because"],
            by=staff(request).user,
            at=at,
            pieces=[piece for one in lines if (piece := one.piece())],
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return None
    if form.cleaned_data["send"]:
        write_letter(credit, at=at)
    finish_document(invoice_id=credit.pk, at=at)
    messages.success(request, f"Credit note {credit.number} is issued.")
    return credit
