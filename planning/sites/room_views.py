"""Pages of a place's rooms and their windows."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.places.models import Place
from planning.sites.models import Room, Site, Window
from planning.sites.room_forms import (
    RoomForm,
    WindowForm,
    initial_of_room,
    initial_of_window,
)
from planning.sites.room_operations import (
    keep_room,
    keep_window,
    remove_room,
    remove_window,
)
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("place.edit")
@require_http_methods(["GET", "POST"])
def room_new(request: HttpRequest, place_id: int) -> HttpResponse:
    """Add a room to a place."""
    return _room_page(request, get_object_or_404(Place, pk=place_id), None)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def room(request: HttpRequest, room_id: int) -> HttpResponse:
    """Change a room; its windows stand beside it."""
    row = get_object_or_404(Room.objects.select_related("place"), pk=room_id)
    return _room_page(request, row.place, row)


def _room_page(request: HttpRequest, place: Place, row: Room | None) -> HttpResponse:
    form = RoomForm(
        request.POST if request.method == "POST" else None,
        initial=initial_of_room(row) if row else None,
    )
    if form.is_valid():
        kept = keep_room(
            place=place,
            room=row,
            details=form.cleaned_data,
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, f"“{kept.name}” is kept.")
        return redirect("planning:room", kept.pk)
    context = {"place": place, "room": row, "form": form}
    return render(request, "planning/sites/room.html", context)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def window_new(request: HttpRequest, room_id: int) -> HttpResponse:
    """Add a window to a room."""
    row = get_object_or_404(Room.objects.select_related("place"), pk=room_id)
    return _window_page(request, row, None)


@may("place.edit")
@require_http_methods(["GET", "POST"])
def window(request: HttpRequest, window_id: int) -> HttpResponse:
    """Change a window."""
    rows = Window.objects.select_related("room__place")
    row = get_object_or_404(rows, pk=window_id)
    return _window_page(request, row.room, row)


def _window_page(request: HttpRequest, room: Room, row: Window | None) -> HttpResponse:
    site = Site.objects.filter(place_id=room.place_id).first()
    form = WindowForm(
        request.POST if request.method == "POST" else None,
        initial=initial_of_window(row) if row else None,
        declination_deg=site.declination_deg if site else None,
    )
    if form.is_valid():
        kept = keep_window(
            room=room,
            window=row,
            details=form.details(),
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, f"“{kept.name}” is kept.")
        return redirect("planning:room", room.pk)
    context = {"place": room.place, "room": room, "window": row, "form": form}
    return render(request, "planning/sites/window.html", context)


@may("place.edit")
@require_POST
def room_remove(request: HttpRequest, room_id: int) -> HttpResponse:
    """Take a room out of its place."""
    row = get_object_or_404(Room.objects.select_related("place"), pk=room_id)
    try:
        place = remove_room(room_id=row.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect("planning:room", row.pk)
    messages.success(request, f"“{row.name}” is taken out.")
    return redirect(place)


@may("place.edit")
@require_POST
def window_remove(request: HttpRequest, window_id: int) -> HttpResponse:
    """Take a window out of its room."""
    row = get_object_or_404(Window, pk=window_id)
    try:
        remove_window(window_id=row.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"“{row.name}” is taken out.")
    return redirect("planning:room", row.room_id)
