"""The page of a kit checklist."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.bookings.models import Booking
from jobs.bookings.operations import take_item
from jobs.kits.models import KitItem
from planning.checklists.forms import OwnItemForm, TakeForm, read_keys
from planning.checklists.models import Section
from planning.checklists.operations import (
    add_own_item,
    remove_own_item,
    set_ticks,
)
from planning.checklists.queries import checklist_of
from planning.checklists.taking import with_offers
from studio.errors import DomainError
from studio.http import staff, wants_fragment
from studio.people.access import may


def _booking(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("job__client", "place")
    return get_object_or_404(bookings, pk=booking_id)


@may("checklist.tick")
@require_http_methods(["GET", "POST"])
def checklist(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show what to pack and prepare; POST adds something of one's own."""
    booking = _booking(booking_id)
    form = OwnItemForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        add_own_item(
            booking=booking,
            section=Section(form.cleaned_data["section"]),
            words=form.cleaned_data["words"],
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, f"“{form.cleaned_data['words']}” is on the list.")
        return redirect("planning:checklist", booking.pk)
    status = 422 if form.is_bound else 200
    context = {**_context(booking), "form": form}
    return render(request, "planning/checklists/page.html", context, status=status)


@may("checklist.tick")
@require_POST
def checklist_tick(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Keep the ticks that were changed; a script gets its part of the page anew."""
    booking = _booking(booking_id)
    set_ticks(
        booking=booking,
        ticked=read_keys(request.POST.getlist("ticked")),
        was=read_keys(request.POST.getlist("was")),
        by=staff(request).user,
        at=timezone.now(),
    )
    is_panel = request.POST.get("part") == "before"
    if wants_fragment(request):
        template = "_before_panel" if is_panel else "_list"
        name = f"planning/checklists/{template}.html"
        return render(request, name, _context(booking))
    messages.success(request, "The ticks are kept.")
    if is_panel:
        return redirect(booking.job)
    return redirect("planning:checklist", booking.pk)


@may("checklist.tick")
@require_POST
def checklist_remove(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Take something off that was added by hand."""
    booking = _booking(booking_id)
    by, at = staff(request).user, timezone.now()
    for key in read_keys(request.POST.getlist("key")):
        remove_own_item(booking=booking, key=key, by=by, at=at)
    return redirect("planning:checklist", booking.pk)


@may("booking.edit")
@require_POST
def checklist_take(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Take an item of the studio's kit that the plan asks for."""
    booking = _booking(booking_id)
    form = TakeForm(request.POST)
    if not form.is_valid():
        messages.error(request, "That item is not among the studio’s kit.")
        return redirect("planning:checklist", booking.pk)
    item: KitItem = form.cleaned_data["kit_item"]
    by, at = staff(request).user, timezone.now()
    try:
        take_item(booking_id=booking.pk, item=item, by=by, at=at)
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"“{item.name}” goes along.")
    return redirect("planning:checklist", booking.pk)


def _context(booking: Booking) -> dict[str, object]:
    return {
        "booking": booking,
        "job": booking.job,
        "list": with_offers(checklist_of(booking), booking),
        "zone": booking.place.zone,
    }
