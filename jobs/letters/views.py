"""Pages of letters: how they are worded, and one before it goes."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.models import Booking
from jobs.letters.forms import LetterForm, WordingForm
from jobs.letters.kinds import FACTS, USUAL, LetterKind
from jobs.letters.operations import keep_wording, leave_letter, send_letter
from jobs.letters.queries import wordings, written_for
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("letter.word")
@require_safe
def letters(request: HttpRequest) -> HttpResponse:
    """List the letters, and whether each goes by itself."""
    rows = [(when_words(USUAL[kind].days), one) for kind, one in wordings().items()]
    return render(request, "jobs/letters/letters.html", {"rows": rows})


@may("letter.word")
@require_http_methods(["GET", "POST"])
def wording(request: HttpRequest, kind: str) -> HttpResponse:
    """Show how a letter is worded, and let it be changed."""
    chosen = _kind(kind)
    form = WordingForm(
        request.POST if request.method == "POST" else None,
        initial=WordingForm.initial_of(wordings()[chosen]),
    )
    if form.is_valid():
        keep_wording(
            wording=form.wording(chosen), by=staff(request).user, at=timezone.now()
        )
        messages.success(request, "Your words are kept.")
        return redirect("jobs:letters")
    context = {"form": form, "kind": chosen, "facts": FACTS.items()}
    status = 422 if form.is_bound else 200
    return render(request, "jobs/letters/wording.html", context, status=status)


@may("letter.send")
@require_http_methods(["GET", "POST"])
def letter(request: HttpRequest, booking_id: int, kind: str) -> HttpResponse:
    """Show a session's letter, let it be edited, and send it."""
    chosen = _kind(kind)
    related = Booking.objects.select_related("place", "job__client")
    booking = get_object_or_404(related, pk=booking_id)
    subject, body = written_for(booking, wordings()[chosen])
    form = LetterForm(
        request.POST if request.method == "POST" else None,
        initial={"subject": subject, "body": body},
    )
    if form.is_valid():
        data = form.cleaned_data
        try:
            send_letter(
                booking_id=booking.pk,
                kind=chosen,
                words=(data["subject"], data["body"]),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The letter is in the outbox.")
            return redirect(booking)
    context = {
        "form": form,
        "kind": chosen,
        "booking": booking,
        "sent": booking.letters.filter(kind=chosen).first(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "jobs/letters/letter.html", context, status=status)


@may("letter.send")
@require_POST
def letter_leave(request: HttpRequest, booking_id: int, kind: str) -> HttpResponse:
    """Say that a letter is not sent."""
    booking = get_object_or_404(Booking, pk=booking_id)
    leave_letter(
        booking_id=booking.pk,
        kind=_kind(kind),
        by=staff(request).user,
        at=timezone.now(),
    )
    messages.success(request, "That letter is left out.")
    return redirect(booking)


def when_words(days: int) -> str:
    """Return when a letter is due, in days from its session."""
    if not days:
        return "When the session is fixed"
    count = f"{abs(days)} day{'s' if abs(days) != 1 else ''}"
    return f"{count} {'before' if days < 0 else 'after'}, 09:00"


def _kind(written: str) -> LetterKind:
    try:
        return LetterKind(written.upper().replace("-", "_"))
    except ValueError as fault:
        raise Http404 from fault
