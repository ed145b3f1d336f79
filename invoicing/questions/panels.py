"""Questions on the pages of papers, and on the owner's Today."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString

from invoicing.invoices.models import Invoice
from invoicing.questions.models import PaperQuestion
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.people.policy import Hat


@on_today(action="invoice.see", hat=Hat.OWNER)
def paper_questions(person: Person, at: datetime) -> list[TodayItem]:
    """Name the questions about papers that wait for an answer."""
    waiting = PaperQuestion.objects.waiting()
    waiting = waiting.select_related("invoice", "purchase", "asked_by")
    return [
        TodayItem(
            group="today",
            title=question.question,
            reason=f"{question.asked_by} asks about {question.about}",
            url=reverse("invoicing:question_answer", args=[question.pk]),
            verb="Answer",
            icon="info",
        )
        for question in waiting[:10]
    ]


@show_on("invoice", action="invoice.see")
@show_on("purchase", action="purchase.see")
def questions_of_paper(request: StaffRequest, paper: Any) -> SafeString:
    """Show what was asked about a paper and answered, and let more be asked."""
    kind = "invoice" if isinstance(paper, Invoice) else "purchase"
    context = {
        "questions": paper.questions.select_related("asked_by", "answered_by"),
        "ask_url": reverse(f"invoicing:ask_{kind}", args=[paper.pk]),
    }
    return render_to_string("invoicing/questions/_panel.html", context, request)
