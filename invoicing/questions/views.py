"""Asking about a paper and answering; each leads back to the paper."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.invoices.models import Invoice
from invoicing.purchases.models import Purchase
from invoicing.questions.forms import AnswerForm, AskForm
from invoicing.questions.models import PaperQuestion
from invoicing.questions.operations import answer_question, ask_about_paper
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("invoice.see")
@require_http_methods(["GET", "POST"])
def ask_invoice(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Ask about an invoice or a credit note."""
    return _asked(request, get_object_or_404(Invoice, pk=invoice_id))


@may("purchase.see")
@require_http_methods(["GET", "POST"])
def ask_purchase(request: HttpRequest, purchase_id: int) -> HttpResponse:
    """Ask about a purchase."""
    return _asked(
        request, get_object_or_404(Purchase.objects.standing(), pk=purchase_id)
    )


@may("money.see")
@require_http_methods(["GET", "POST"])
def question_answer(request: HttpRequest, question_id: int) -> HttpResponse:
    """Answer a question."""
    related = PaperQuestion.objects.select_related("invoice", "purchase", "asked_by")
    question = get_object_or_404(related, pk=question_id)
    form = AnswerForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            answer_question(
                question_id=question.pk,
                answer=form.cleaned_data["answer"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The answer is kept.")
            return redirect(question.about)
    context: dict[str, Any] = {"form": form, "paper": question.about}
    return _page(request, {**context, "question": question})


def _asked(request: HttpRequest, paper: Invoice | Purchase) -> HttpResponse:
    form = AskForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            ask_about_paper(
                paper=paper,
                question=form.cleaned_data["question"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The question stands on the owner’s Today.")
            return redirect(paper)
    return _page(request, {"form": form, "paper": paper})


def _page(request: HttpRequest, context: dict[str, Any]) -> HttpResponse:
    status = 422 if request.method == "POST" else 200
    page = "invoicing/questions/question.html"
    return render(request, page, context, status=status)
