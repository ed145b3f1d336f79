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
from planning.callsheets.forms import SendForm
from planning.callsheets.gaps import missing
from planning.callsheets.models import CallSheet, SheetReceiver
from planning.callsheets.operations import make_call_sheet
from planning.callsheets.queries import (
    history_of,
    standing_of,
    versions_of,
)
from planning.callsheets.receivers import deliveries_of
from planning.callsheets.sending import (
    GapsError,
    close_sheet_page,
    send_call_sheet,
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
    return _drawn(request, _booking(booking_id), SendForm())


def _drawn(request: HttpRequest, booking: Booking, form: SendForm) -> HttpResponse:
    at = timezone.now()
    standing = standing_of(booking, at)
    current = standing.last if standing.is_current else None
    deliveries = deliveries_of(booking, current, at=at)
    context: dict[str, Any] = {
        "booking": booking,
        "job": booking.job,
        "zone": booking.place.zone,
        "gaps": missing(booking, at=at),
        "unprintable": missing_letters(booking, at),
        "standing": standing,
        "versions": history_of(booking),
        "deliveries": deliveries,
        "all_sent": bool(deliveries) and all(one.state for one in deliveries),
        "form": form,
    }
    status = 400 if form.errors else 200
    return render(request, "planning/callsheets/page.html", context, status=status)


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
    sheet = get_object_or_404(CallSheet, pk=call_sheet_id)
    form = SendForm(request.POST)
    despite = form.is_valid() and form.cleaned_data["despite_gaps"]
    by, at = staff(request).user, timezone.now()
    try:
        send_call_sheet(call_sheet_id=sheet.pk, by=by, at=at, despite_gaps=despite)
    except GapsError as refusal:
        form.add_error("despite_gaps", str(refusal))
        return _drawn(request, _booking(sheet.booking_id), form)
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"Version {sheet.version} is on its way.")
    return redirect("planning:call_sheet", sheet.booking_id)


@may("call_sheet.send")
@require_POST
def receiver_close(request: HttpRequest, receiver_id: int) -> HttpResponse:
    """Take a receiver's private page away."""
    receiver = get_object_or_404(SheetReceiver, pk=receiver_id)
    by, at = staff(request).user, timezone.now()
    close_sheet_page(receiver_id=receiver.pk, by=by, at=at)
    messages.success(request, f"The page of {receiver.name} opens nothing any more.")
    return redirect("planning:call_sheet", receiver.booking_id)


@may("plan.see")
@require_safe
def call_sheet_pdf(request: HttpRequest, call_sheet_id: int) -> HttpResponse:
    """Hand out the crew's paper of a version."""
    sheets = CallSheet.objects.select_related("sheet")
    return paper_answer(get_object_or_404(sheets, pk=call_sheet_id).sheet)


@may("plan.see")
@require_safe
def session_pdf(request: HttpRequest, call_sheet_id: int) -> HttpResponse:
    """Hand out the client's paper of a version."""
    sheets = CallSheet.objects.select_related("session_page")
    return paper_answer(get_object_or_404(sheets, pk=call_sheet_id).session_page)


def paper_answer(file: StoredFile) -> HttpResponse:
    """Return an answer that shows a paper in the browser."""
    answer = HttpResponse(bytes(file.content), content_type=file.content_type)
    answer["Content-Disposition"] = f'inline; filename="{file.name}"'
    return answer
