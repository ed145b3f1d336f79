"""Pages of the studio about who is coming: the answers and the client's own page."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.attending.operations import (
    ask_client,
    close_page,
    erase_answers,
    open_page,
)
from jobs.attending.page import AnswersPage
from jobs.attending.queries import live_page
from jobs.bookings.models import Booking
from studio.errors import DomainError
from studio.http import staff
from studio.links.operations import token_of
from studio.people.access import may

PAGES = "jobs/attending/"


def booking_of(booking_id: int) -> Booking:
    """Return a session with its job, client and place, or 404."""
    found = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(found, pk=booking_id)


@may("answers.edit")
@require_http_methods(["GET", "POST"])
def answers(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show what was told of who is coming, and let the studio write it down."""
    booking = booking_of(booking_id)
    at = timezone.now()
    page = AnswersPage(booking, request.POST if request.method == "POST" else None)
    if page.keep(by=staff(request).user, at=at):
        messages.success(request, "What was told is kept.")
        return redirect("jobs:answers", booking.pk)
    link = live_page(booking, at=at)
    context = {
        "booking": booking,
        "page": page,
        "link": link,
        "token": token_of(link) if link else "",
    }
    status = 409 if page.refusal else 200
    return render(request, f"{PAGES}answers.html", context, status=status)


@may("answers.edit")
@require_POST
def answers_page_open(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Make the client's private page, and send it where that is wanted."""
    booking = booking_of(booking_id)
    act = ask_client if "send" in request.POST else open_page
    try:
        act(booking_id=booking.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        sent = "send" in request.POST
        words = "The page is on its way to the client." if sent else "The page is open."
        messages.success(request, words)
    return redirect("jobs:answers", booking.pk)


@may("answers.edit")
@require_POST
def answers_page_close(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Close the client's private page."""
    booking = booking_of(booking_id)
    close_page(booking_id=booking.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "The client’s page is closed.")
    return redirect("jobs:answers", booking.pk)


@may("answers.edit")
@require_http_methods(["GET", "POST"])
def answers_erase(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Ask once more, then erase what was told; names stay listed."""
    booking = booking_of(booking_id)
    if request.method == "POST":
        erase_answers(booking_id=booking.pk, by=staff(request).user, at=timezone.now())
        messages.success(request, "What was told is erased. The names stay listed.")
        return redirect("jobs:answers", booking.pk)
    return render(request, f"{PAGES}erase.html", {"booking": booking})
