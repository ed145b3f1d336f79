"""Questions that clients ask on the private page."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from invoicing.quotes.letters import pass_question_on
from invoicing.quotes.models import ClientQuestion, Quote
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def ask_question(*, quote_id: int, words: str, at: datetime) -> ClientQuestion:
    """Keep what a client asks and pass it on; the same words twice are one question."""
    quotes = Quote.objects.select_for_update(of=("self",))
    quote = quotes.select_related("job__client").get(pk=quote_id)
    asked = ClientQuestion.objects.filter(quote=quote, answered_at=None, words=words)
    if standing := asked.first():
        return standing
    question = ClientQuestion.objects.create(quote=quote, words=words, asked_at=at)
    pass_question_on(question, at=at)
    record(quote, "question asked", by=None, at=at, kind=ActorKind.CLIENT)
    return question


@transaction.atomic
def note_answer(*, question_id: int, by: Person, at: datetime) -> ClientQuestion:
    """Note that a question was answered."""
    questions = ClientQuestion.objects.select_for_update(of=("self",))
    question = questions.select_related("quote").get(pk=question_id)
    if question.answered_at is None:
        question.answered_at = at
        question.save(update_fields=["answered_at"])
        record(question.quote, "question answered", by=by, at=at)
    return question
