"""Pages of the call sheet: what is missing, versions, sending, the papers."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from jobs.bookings.models import Booking
from planning.callsheets.documents import missing_letters
from planning.callsheets.models import CallSheet
from planning.callsheets.operations import make_call_sheet, send_call_sheet
from planning.callsheets.queries import (
    deliveries_of,
    missing,
    standing_of,
    versions_of,
)
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.http import staff
from studio.people.access import may


def _booking(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("job__client", "job__owner", "place")
    return get_object_or_404(bookings, pk=booking_id)


@may("call_sheet.make")
@require_safe
def call_sheet(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show what the papers lack, their versions, and who gets which."""
    booking, at = _booking(booking_id), timezone.now()
    standing = standing_of(booking, at)
    current = standing.last if standing.is_current else None
    deliveries = deliveries_of(booking, current)
    context: dict[str, Any] = {
        "booking": booking,
        "job": booking.job,
        "zone": booking.place.zone,
        "gaps": missing(booking),
        "unprintable": missing_letters(booking, at),
        "standing": standing,
        "versions": versions_of(booking),
        "deliveries": deliveries,
        "all_sent": bool(deliveries) and all(one.state for one in deliveries),
    }
    return render(request, "planning/callsheets/page.html", context)


@may("call_sheet.make")
@require_POST
def call_sheet_make(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Print what is planned as the next version."""
    booking, at = _booking(booking_id), timezone.now()
    before = {one.pk for one in versions_of(booking)}
    try:
        made = make_call_sheet(booking_id=booking.pk, by=staff(request).user, at=at)
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        words = f"Version {made.version} is made."
        if made.pk in before:
            words = f"Nothing changed since version {made.version}: it still holds."
        messages.success(request, words)
    return redirect("planning:call_sheet", booking.pk)


@may("call_sheet.send")
@require_POST
def call_sheet_send(request: HttpRequest, call_sheet_id: int) -> HttpResponse:
    """Queue the papers of a version for everybody whom they are for."""
    sheets = CallSheet.objects.select_related("booking")
    sheet = get_object_or_404(sheets, pk=call_sheet_id)
    try:
        send_call_sheet(
            call_sheet_id=sheet.pk, by=staff(request).user, at=timezone.now()
        )
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"Version {sheet.version} is on its way.")
    return redirect("planning:call_sheet", sheet.booking_id)


@may("plan.see")
@require_safe
def call_sheet_pdf(request: HttpRequest, call_sheet_id: int) -> HttpResponse:
    """Hand out the crew's paper of a version."""
    sheets = CallSheet.objects.select_related("sheet")
    return _paper(get_object_or_404(sheets, pk=call_sheet_id).sheet)


@may("plan.see")
@require_safe
def session_pdf(request: HttpRequest, call_sheet_id: int) -> HttpResponse:
    """Hand out the client's paper of a version."""
    sheets = CallSheet.objects.select_related("session_page")
    return _paper(get_object_or_404(sheets, pk=call_sheet_id).session_page)


def _paper(file: StoredFile) -> HttpResponse:
    answer = HttpResponse(bytes(file.content), content_type=file.content_type)
    answer["Content-Disposition"] = f'inline; filename="{file.name}"'
    return answer
