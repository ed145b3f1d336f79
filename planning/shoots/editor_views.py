"""Pages of the set-up editor: one set-up beside the light that it stands in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from planning.shoots.editing import Editor
from planning.shoots.operations import add_set_up, change_set_up, start_plan
from planning.shoots.turning import SUN_TURNS
from planning.shoots.views import booking_or_404, set_up_or_404
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may

ACTS = (
    ("up", "Move up"),
    ("down", "Move down"),
    ("copy", "Copy, to start when it ends"),
    ("remove", "Take it out"),
)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def set_up_new(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Add a set-up at the end of a plan."""
    booking = booking_or_404(booking_id)
    editor = Editor(booking, None, request.POST if request.method == "POST" else None)
    form = editor.form
    if _saves(request) and form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = start_plan(booking=booking, by=by, at=at)
        add_set_up(plan_id=made.pk, details=form.details(), by=by, at=at)
        messages.success(request, f"“{form.cleaned_data['name']}” is in the plan.")
        return redirect("planning:plan", booking.pk)
    return _page(request, editor)


@may("plan.edit")
@require_http_methods(["GET", "POST"])
def set_up_edit(request: HttpRequest, set_up_id: int) -> HttpResponse:
    """Change a set-up beside the light that it stands in."""
    row = set_up_or_404(set_up_id)
    booking = row.plan.booking
    editor = Editor(booking, row, request.POST if request.method == "POST" else None)
    form = editor.form
    if _saves(request) and form.is_valid():
        try:
            change_set_up(
                set_up_id=row.pk,
                details=form.details(),
                by=staff(request).user,
                at=timezone.now(),
                version=_version(request),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"“{form.cleaned_data['name']}” is changed.")
            return redirect("planning:plan", booking.pk)
    return _page(request, editor)


@may("plan.edit")
@require_POST
def set_up_new_preview(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Return the light of a new set-up as far as it is typed; nothing is saved."""
    return _pane(request, Editor(booking_or_404(booking_id), None, request.POST))


@may("plan.edit")
@require_POST
def set_up_preview(request: HttpRequest, set_up_id: int) -> HttpResponse:
    """Return the light of a set-up as far as it is typed; nothing is saved."""
    row = set_up_or_404(set_up_id)
    return _pane(request, Editor(row.plan.booking, row, request.POST))


def _saves(request: HttpRequest) -> bool:
    """Say whether a form is sent to be saved, not to be turned on its dial."""
    return request.method == "POST" and "turn" not in request.POST


def _page(request: HttpRequest, editor: Editor) -> HttpResponse:
    booking, row = editor.booking, editor.row
    failed = editor.form.is_bound and not editor.form.is_valid()
    context = {
        "booking": booking,
        "job": booking.job,
        "editor": editor,
        "form": editor.form,
        "set_up": row,
        "zone": booking.place.time_zone,
        "version": row.plan.version if row else 0,
        "acts": ACTS,
        "turns": SUN_TURNS,
    }
    status = 422 if failed else 200
    return render(request, "planning/shoots/set_up.html", context, status=status)


def _pane(request: HttpRequest, editor: Editor) -> HttpResponse:
    context = {"editor": editor, "turns": SUN_TURNS, "preview_url": request.path}
    return render(request, "planning/shoots/_preview.html", context)


def _version(request: HttpRequest) -> int | None:
    given = request.POST.get("version", "")
    return int(given) if given.isascii() and given.isdigit() else None
