"""Pages of the studio about a slot day and each of its times."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.models import Booking
from jobs.bookings.words import session_words
from jobs.slotdays.forms import (
    ChoiceOfTimeForm,
    NewTimeForm,
    OfferForm,
    ReasonForm,
    SitterForm,
    SlotDayForm,
)
from jobs.slotdays.letters import moment_words
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.operations import (
    add_sitting,
    change_offer,
    close_day,
    keep_back,
    make_slot_day,
    note_who_came,
    open_day,
    remove_sitting,
    tell_everybody,
)
from jobs.slotdays.queries import (
    clocks_of,
    day_of,
    free_times,
    how_many,
    rows_of,
    sheet_of,
)
from jobs.slotdays.rows import link_of_day, page_of
from jobs.slotdays.taking import Visitor, change_sitting, give_back, take_sitting
from studio.errors import DomainError
from studio.forms import StudioForm
from studio.http import sheet_download, staff
from studio.links.operations import token_of
from studio.people.access import may
from studio.profile.models import StudioProfile

PAGES: Final = "jobs/slotdays/"


@may("slot_day.edit")
@require_http_methods(["GET", "POST"])
def slot_day(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show a day's times, or offer a session in sittings."""
    booking = _booking(booking_id)
    day = day_of(booking)
    if day is None:
        return _new(request, booking)
    form = NewTimeForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            span = form.span(booking)
            add_sitting(day_id=day.pk, span=span, **_who(request))
        except DomainError as refusal:
            form.add_error("starts", str(refusal))
        else:
            return redirect(day)
    at = timezone.now()
    rows = rows_of(day)
    link = link_of_day(day, at=at)
    studio = StudioProfile.load()
    token = token_of(link) if link and day.is_open else ""
    home = (studio.public_address or request.build_absolute_uri("/")).rstrip("/")
    context = {
        "booking": booking,
        "day": day,
        "words": session_words(booking, at=at, home=studio.zone),
        "rows": rows,
        "how_many": how_many(rows),
        "until": moment_words(day.local_close),
        "token": token,
        "address": f"{home}{reverse('jobs:times', args=[token])}" if token else "",
        "form": form,
        "is_begun": booking.starts_at <= at,
        "is_off": booking.status == "CANCELLED",
    }
    status = 422 if form.is_bound else 200
    return render(request, f"{PAGES}day.html", context, status=status)


@may("slot_day.edit")
@require_http_methods(["GET", "POST"])
def slot_day_offer(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Change what is offered."""
    booking, day = _day(booking_id)
    data = request.POST if request.method == "POST" else None
    form = OfferForm(data, booking=booking, day=day)
    if form.is_valid():
        change_offer(day_id=day.pk, offer=form.offer(), **_who(request))
        messages.success(request, "What is offered is changed.")
        return redirect(day)
    context = {"booking": booking, "day": day, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, f"{PAGES}offer.html", context, status=status)


@may("slot_day.edit")
@require_POST
def slot_day_open(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Open the day's page to whoever has its link."""
    return _act(request, booking_id, open_day, "The page is open.")


@may("slot_day.edit")
@require_POST
def slot_day_close(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Close the day's page."""
    return _act(request, booking_id, close_day, "The page is closed.")


@may("slot_day.edit")
@require_POST
def slot_day_tell(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Write to all who have a time."""
    _, day = _day(booking_id)
    told = tell_everybody(day_id=day.pk, **_who(request))
    messages.success(
        request,
        f"{told} letter{'s' if told != 1 else ''} on the way. Who was told before, or "
        "has no address, is not written to.",
    )
    return redirect(day)


@may("slot_day.edit")
@require_POST
def slot_day_came(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Note who came."""
    _, day = _day(booking_id)
    ticked = [int(one) for one in request.POST.getlist("came") if one.isdigit()]
    came = note_who_came(day_id=day.pk, sitting_ids=ticked, **_who(request))
    messages.success(request, f"{came} noted as photographed.")
    return redirect(day)


@may("slot_day.edit")
@require_safe
def slot_day_csv(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Give the day as a table."""
    _, day = _day(booking_id)
    head, rows = sheet_of(day)
    name = f"times-{day.booking.local_start:%Y-%m-%d}"
    return sheet_download(name=name, kind="csv", head=head, rows=rows)


@may("slot_day.edit")
@require_http_methods(["GET", "POST"])
def sitting(request: HttpRequest, sitting_id: int) -> HttpResponse:
    """Show one time: give it to somebody, move them, or free it."""
    one = _sitting(sitting_id)
    step = request.POST.get("step", "") if request.method == "POST" else ""
    forms: dict[str, StudioForm] = {
        "take": SitterForm(request.POST if step == "take" else None),
        "change": ChoiceOfTimeForm(
            request.POST if step == "change" else None, times=free_times(one.slot_day)
        ),
        "back": ReasonForm(request.POST if step == "back" else None),
    }
    if step and _done(request, one, step, forms):
        return redirect(one.slot_day)
    link = page_of(one, at=timezone.now()) if one.job_id else None
    context = {
        "sitting": one,
        "clocks": clocks_of(one),
        "day": one.slot_day,
        "forms": forms,
        "token": token_of(link) if link else "",
    }
    status = 422 if step else 200
    return render(request, f"{PAGES}sitting.html", context, status=status)


def _new(request: HttpRequest, booking: Booking) -> HttpResponse:
    form = SlotDayForm(
        request.POST if request.method == "POST" else None, booking=booking
    )
    if form.is_valid() and "make" in request.POST:
        try:
            day = make_slot_day(
                booking_id=booking.pk,
                offer=form.offer(),
                times=form.cleaned_data["times"],
                **_who(request),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The session is offered in sittings.")
            return redirect(day)
    zone = booking.place.zone
    times = form.cleaned_data.get("times", []) if form.is_valid() else []
    context = {
        "booking": booking,
        "form": form,
        "times": [f"{one.start.astimezone(zone):%H:%M}" for one in times],
        "words": session_words(
            booking, at=timezone.now(), home=StudioProfile.load().zone
        ),
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, f"{PAGES}new.html", context, status=status)


def _done(
    request: HttpRequest, one: Sitting, step: str, forms: dict[str, StudioForm]
) -> bool:
    """Do one step to a time; say whether it is done, or set the refusal on its form."""
    form = forms.get(step)
    if form is not None and not form.is_valid():
        return False
    try:
        _step(one, step, form.cleaned_data if form else {}, _who(request))
    except DomainError as refusal:
        if form is None:
            messages.error(request, str(refusal))
            return True
        form.add_error(None, str(refusal))
        return False
    return True


def _step(one: Sitting, step: str, said: dict[str, Any], who: dict[str, Any]) -> None:
    if step == "take":
        take_sitting(sitting_id=one.pk, visitor=Visitor(**said), **who)
    elif step == "change":
        change_sitting(sitting_id=one.pk, to_id=said["sitting"], **who)
    elif step == "back":
        give_back(sitting_id=one.pk, because=said["because"], **who)
    elif step == "remove":
        remove_sitting(sitting_id=one.pk, **who)
    else:
        keep_back(sitting_id=one.pk, is_blocked=step == "keep", **who)


def _act(
    request: HttpRequest, booking_id: int, act: Callable[..., Any], done: str
) -> HttpResponse:
    _, day = _day(booking_id)
    try:
        act(day_id=day.pk, **_who(request))
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, done)
    return redirect(day)


def _who(request: HttpRequest) -> dict[str, Any]:
    return {"by": staff(request).user, "at": timezone.now()}


def _booking(booking_id: int) -> Booking:
    found = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(found, pk=booking_id)


def _day(booking_id: int) -> tuple[Booking, SlotDay]:
    booking = _booking(booking_id)
    days = SlotDay.objects.select_related("booking__place", "booking__job")
    return booking, get_object_or_404(days, booking=booking)


def _sitting(sitting_id: int) -> Sitting:
    found = Sitting.objects.select_related("slot_day__booking__place", "job__client")
    return get_object_or_404(found, pk=sitting_id)
