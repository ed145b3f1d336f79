"""Asking about a paper, and answering."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from invoicing.invoices.models import Invoice
from invoicing.purchases.models import Purchase
from invoicing.questions.models import PaperQuestion
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class QuestionError(DomainError):
    """A question cannot be asked or answered so."""


@transaction.atomic
def ask_about_paper(
    *, paper: Invoice | Purchase, question: str, by: Person, at: datetime
) -> PaperQuestion:
    """Pin a question to a paper; it stands on the owner's Today.

    The same question that still waits is not asked twice. Raises QuestionError.
    """
    words = question.strip()
    if not words:
        raise QuestionError("Write the question.")
    invoice = paper if isinstance(paper, Invoice) else None
    purchase = paper if isinstance(paper, Purchase) else None
    waiting = PaperQuestion.objects.waiting().filter(
        invoice=invoice, purchase=purchase, question=words
    )
    if before := waiting.first():
        return before
    asked = PaperQuestion.objects.create(
        invoice=invoice, purchase=purchase, question=words, asked_at=at, asked_by=by
    )
    record(paper, "asked about", by=by, at=at)
    return asked


@transaction.atomic
def answer_question(
    *, question_id: int, answer: str, by: Person, at: datetime
) -> PaperQuestion:
    """Answer a question once. Raises QuestionError."""
    questions = PaperQuestion.objects.select_for_update(of=("self",))
    question = questions.select_related("invoice", "purchase").get(pk=question_id)
    if question.answered_at:
        raise QuestionError(f"It was answered before: {question.answer}")
    if not answer.strip():
        raise QuestionError("Write the answer.")
    question.answer = answer.strip()
    question.answered_at, question.answered_by = at, by
    question.save(update_fields=["answer", "answered_at", "answered_by"])
    record(question.about, "answered about", by=by, at=at)
    return question
