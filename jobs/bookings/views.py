"""Pages of sessions: when and where, their hold, and who comes."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.html import conditional_escape
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.asked import read_asked
from jobs.bookings.holding import clash_sentence
from jobs.bookings.list_forms import AttendeeForm, AttendeeLines, HoldForm
from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import (
    StaleBookingError,
    confirm_booking,
    let_hold_lapse,
    list_attendees,
    pencil_booking,
)
from jobs.bookings.queries import session_to_edit, usual_hold_until
from jobs.bookings.session_page import SessionPage
from jobs.bookings.sessions import rewrite_session, write_session
from jobs.bookings.travelling import way_sentence
from jobs.bookings.words import SessionWords, session_words
from jobs.calendars.queries import busy_sentence
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

LINES = "who"


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def session(request: HttpRequest, job_id: int) -> HttpResponse:
    """Give a job its session, or move the one that it has."""
    job = get_object_or_404(Job.objects.select_related("client", "owner"), pk=job_id)
    if not job.is_open:
        messages.error(request, "This job is closed, so its sessions stay as they are.")
        return redirect(job)
    posted = request.POST if request.method == "POST" else None
    asked = read_asked(request.GET) if posted is None else None
    page = SessionPage(job, session_to_edit(job), posted=posted, asked=asked)
    if not page.form.is_valid():
        return _shown(request, page)
    try:
        booking = _save(request, page)
    except StaleBookingError as refusal:
        page.set_beside(str(refusal))
        return _shown(request, page, status=409)
    except DomainError as refusal:
        page.refuse(refusal)
    else:
        _tell(request, booking)
        return redirect(job)
    return _shown(request, page)


@may("booking.edit")
@require_safe
def session_echo(request: HttpRequest, job_id: int) -> HttpResponse:
    """Say what the tool makes of a session's day and times as they are typed."""
    job = get_object_or_404(Job, pk=job_id)
    page = SessionPage(job, session_to_edit(job), posted=request.GET)
    return HttpResponse(conditional_escape(page.echo()))


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def pencil(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Ask until when a session is held, then hold it."""
    booking = _booking(booking_id)
    by, at = staff(request).user, timezone.now()
    zone = StudioProfile.load().zone
    usual = usual_hold_until(at, booking.starts_at)
    last_day = (usual - timedelta(seconds=1)).astimezone(zone).date()
    form = HoldForm(
        request.POST if request.method == "POST" else None,
        initial={"until_day": last_day},
        zone=zone,
    )
    if form.is_valid():
        until = min(form.until(), max(booking.starts_at, usual))
        try:
            pencil_booking(booking_id=booking.pk, until=until, by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The session is pencilled in.")
            wanted = booking.reservations.order_by("resource")
            if way := way_sentence(booking.place, wanted):
                messages.warning(request, f"{way} Confirming may be refused.")
            return redirect(booking.job)
    context = {"form": form, "booking": booking, "words": _words(booking)}
    return render(request, "jobs/bookings/pencil.html", context)


@may("booking.edit")
@require_POST
def confirm(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Make a session firm."""
    booking = _booking(booking_id)
    try:
        confirm_booking(
            booking_id=booking.pk, by=staff(request).user, at=timezone.now()
        )
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "The session is confirmed.")
    return redirect(booking.job)


@may("booking.edit")
@require_POST
def let_go(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Give a session's hold up; it stays written down."""
    booking = _booking(booking_id)
    try:
        let_hold_lapse(booking_id=booking.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "The time, people and kit are free again.")
    return redirect(booking.job)


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def attendees(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Edit who comes to a session."""
    booking = _booking(booking_id)
    if request.method == "POST" and "add_line" in request.POST:
        lines = AttendeeLines(more_lines(request.POST, prefix=LINES), prefix=LINES)
    elif request.method == "POST":
        lines = AttendeeLines(request.POST, prefix=LINES)
        if lines.is_valid():
            list_attendees(
                booking_id=booking.pk,
                attendees=[form.attendee() for form in lines.forms if _is_kept(form)],
                by=staff(request).user,
                at=timezone.now(),
                shown=[row for form in lines.forms if (row := _row(form))],
            )
            messages.success(request, "The list of who comes is kept.")
            return redirect(booking.job)
    else:
        lines = AttendeeLines(initial=_listed(booking), prefix=LINES)
    adding = "add_line" in request.POST
    context = {"booking": booking, "lines": lines, "adding": adding}
    return render(request, "jobs/bookings/attendees.html", context)


def _save(request: HttpRequest, page: SessionPage) -> Booking:
    by, at, form = staff(request).user, timezone.now(), page.form
    if page.booking is None:
        start = form.cleaned_data["span"].start
        until = usual_hold_until(at, start) if "pencil" in request.POST else None
        draft = form.draft(hold_until=until)
        return write_session(job=page.job, draft=draft, by=by, at=at)
    return rewrite_session(
        booking_id=page.booking.pk,
        draft=form.draft(),
        version=form.cleaned_data["version"] or 0,
        by=by,
        at=at,
    )


def _shown(request: HttpRequest, page: SessionPage, status: int = 200) -> HttpResponse:
    context = {"page": page, "form": page.drawn(), "job": page.job}
    return render(request, "jobs/bookings/session.html", context, status=status)


def _tell(request: HttpRequest, booking: Booking) -> None:
    words = _words(booking)
    messages.success(request, f"The session is {words.day}, {words.clocks}.")
    wanted = list(booking.reservations.order_by("resource"))
    if not booking.is_holding and (clash := clash_sentence(wanted)):
        messages.warning(request, f"It holds nothing yet, and {clash}")
    for warning in (busy_sentence(wanted), way_sentence(booking.place, wanted)):
        if warning:
            messages.warning(request, warning)


def _words(booking: Booking) -> SessionWords:
    home = StudioProfile.load().zone
    return session_words(booking, at=timezone.now(), home=home)


def _booking(booking_id: int) -> Booking:
    found = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(found, pk=booking_id)


def _is_kept(form: AttendeeForm) -> bool:
    data = form.cleaned_data
    return bool(data.get("name")) and not data.get("DELETE")


def _row(form: AttendeeForm) -> int | None:
    row: int | None = form.cleaned_data.get("row")
    return row


def _listed(booking: Booking) -> list[dict[str, Any]]:
    """Return who is listed; the client to begin with where nobody is."""
    names = ("name", "part", "role", "phone", "email")
    rows = [
        {"row": one.pk, **{name: getattr(one, name) for name in names}}
        for one in booking.attendees.all()
    ]
    client = booking.job.client
    first = Attendee(
        name=client.addressee, part=Part.CLIENT, phone=client.phone, email=client.email
    )
    return rows or [{name: getattr(first, name) for name in names}]
