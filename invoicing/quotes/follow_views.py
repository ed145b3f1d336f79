"""Pages around quotes that are out: what became of them, and reminding."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.quotes.answer_forms import SendForm
from invoicing.quotes.models import Quote
from invoicing.quotes.outcomes import outcomes
from invoicing.quotes.queries import total_of, waiting_for_yes
from invoicing.quotes.reminding import is_due, remind_of_quote, reminder_for
from invoicing.quotes.sending import LetterWords
from invoicing.quotes.states import QuoteState
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

YEAR = timedelta(days=365)


@may("quote.see")
@require_safe
def quotes(request: HttpRequest) -> HttpResponse:
    """Show the quotes that are out, and what became of a year's."""
    at = timezone.now()
    today = at.astimezone(StudioProfile.load().zone).date()
    waiting = [
        (quote, total_of(quote), is_due(quote, at=at))
        for quote in waiting_for_yes(on=today)
    ]
    context = {"waiting": waiting, "outcomes": outcomes(since=at - YEAR)}
    return render(request, "invoicing/quotes/quotes.html", context)


@may("quote.send")
@require_http_methods(["GET", "POST"])
def quote_remind(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Show the reminder of a quote, let it be edited, and send it once."""
    found = get_object_or_404(Quote.objects.select_related("job__client"), pk=quote_id)
    if found.state != QuoteState.SENT or found.reminded_at:
        messages.info(request, "This version was answered or reminded of already.")
        return redirect(found)
    words = reminder_for(found)
    form = SendForm(
        request.POST if request.method == "POST" else None,
        initial={"subject": words.subject, "body": words.body},
        has_page=bool(StudioProfile.load().public_address),
    )
    if form.is_valid():
        try:
            _remind(request, found, form)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The reminder is in the outbox.")
            return redirect(found)
    context = {"quote": found, "job": found.job, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/quotes/remind.html", context, status=status)


def _remind(request: HttpRequest, found: Quote, form: SendForm) -> None:
    data = form.cleaned_data
    remind_of_quote(
        quote_id=found.pk,
        letter=LetterWords(subject=data["subject"], body=data["body"]),
        at=timezone.now(),
        by=staff(request).user,
    )
