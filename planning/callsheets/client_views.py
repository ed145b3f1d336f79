"""What one receiver opens by their private link: the newest call sheet as a page."""

from __future__ import annotations

from datetime import datetime

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from planning.callsheets.models import SheetReceiver
from planning.callsheets.page import SheetPage, sheet_page
from planning.callsheets.sending import note_read
from planning.callsheets.views import paper_answer
from studio.links.models import LinkPurpose
from studio.links.operations import LinkGoneError, find_link, note_use
from studio.people.access import open_to_all
from studio.visitors import posts_too_often


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def sheet_of_receiver(request: HttpRequest, token: str) -> HttpResponse:
    """Show a receiver the newest version, and let them say that they read it."""
    if request.method == "POST" and posts_too_often(request):
        return render(request, "jobs/enquiries/busy.html", status=429)
    at = timezone.now()
    receiver, page = _opened(request, token, at)
    if request.method == "POST":
        _read(request, receiver, page, at)
        return redirect("planning:sheet_of_receiver", token)
    context = {
        "page": page,
        "token": token,
        "zone": receiver.booking.place.zone,
        "title": receiver.booking.job.title,
    }
    return render(request, "planning/callsheets/receiver.html", context)


@open_to_all
@require_safe
def paper_of_receiver(request: HttpRequest, token: str) -> HttpResponse:
    """Hand a receiver the newest version of their own paper."""
    _, page = _opened(request, token, timezone.now())
    sheet = page.sheet
    return paper_answer(sheet.sheet if page.is_crew else sheet.session_page)


def _opened(
    request: HttpRequest, token: str, at: datetime
) -> tuple[SheetReceiver, SheetPage]:
    try:
        link = find_link(token=token, purpose=LinkPurpose.CALL_SHEET, at=at)
    except LinkGoneError as gone:
        raise Http404 from gone
    rows = SheetReceiver.objects.select_related(
        "booking__place", "booking__job__client", "booking__job__owner"
    )
    receiver = get_object_or_404(rows, pk=link.object_id)
    page = sheet_page(receiver, receiver.booking)
    if page is None:
        raise Http404
    if request.method == "GET" and not request.user.is_authenticated:
        note_use(link, at=at)
    return receiver, page


def _read(
    request: HttpRequest, receiver: SheetReceiver, page: SheetPage, at: datetime
) -> None:
    sheet = page.sheet
    if request.POST.get("version") != str(sheet.version):
        words = f"Version {sheet.version} came meanwhile. Please read that one."
        messages.warning(request, words)
        return
    note_read(call_sheet_id=sheet.pk, receiver_id=receiver.pk, at=at)
    messages.success(request, "Thank you. We know now that you have read it.")
