"""What a client sees behind the private link of their session: who is coming."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs.attending.operations import is_closed
from jobs.attending.page import AnswersPage
from jobs.attending.views import PAGES, booking_of
from jobs.bookings.words import session_words
from studio.links.models import LinkPurpose
from studio.links.operations import LinkGoneError, find_link, note_use
from studio.people.access import open_to_all
from studio.profile.models import StudioProfile
from studio.visitors import posts_too_often


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def your_session(request: HttpRequest, token: str) -> HttpResponse:
    """Ask who is coming to a session; whoever has its link may answer."""
    is_post = request.method == "POST"
    if is_post and posts_too_often(request):
        return render(request, "jobs/enquiries/busy.html", status=429)
    at = timezone.now()
    try:
        link = find_link(token=token, purpose=LinkPurpose.SESSION, at=at)
    except LinkGoneError as gone:
        raise Http404 from gone
    if request.method == "GET" and not request.user.is_authenticated:
        note_use(link, at=at)
    booking = booking_of(link.object_id)
    page = AnswersPage(booking, request.POST if is_post else None)
    if page.keep(by=None, at=at):
        messages.success(request, "Thank you. You can change this until the day.")
        return redirect("jobs:your_session", token)
    context = {
        "booking": booking,
        "words": session_words(booking, at=at, home=StudioProfile.load().zone),
        "page": page,
        "is_over": is_closed(booking, at=at),
    }
    status = 409 if page.refusal else 200
    return render(request, f"{PAGES}your_session.html", context, status=status)
