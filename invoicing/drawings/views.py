"""Pages of the owner's own money."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.drawings.forms import MoveForm, TakeBackForm
from invoicing.drawings.models import OwnerMove
from invoicing.drawings.operations import drop_move, record_move
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

PAGE = 50


@may("books.see")
@require_safe
def drawings(request: HttpRequest) -> HttpResponse:
    """List what the owner took out and put in, the newest first."""
    moves = OwnerMove.objects.select_related("bank_line")
    page = Paginator(moves, PAGE).get_page(request.GET.get("page"))
    return render(request, "invoicing/drawings/drawings.html", {"page": page})


@may("payment.record")
@require_http_methods(["GET", "POST"])
def drawing_new(request: HttpRequest) -> HttpResponse:
    """Write down what the owner took out or put in."""
    profile = StudioProfile.load()
    form = MoveForm(
        request.POST if request.method == "POST" else None,
        currency=profile.currency,
        today=timezone.now().astimezone(profile.zone).date(),
    )
    if form.is_valid():
        try:
            record_move(moved=form.moved(), by=staff(request).user, at=timezone.now())
        except DomainError as refusal:
            form.add_error("moved_on", str(refusal))
        else:
            messages.success(request, "It is written down.")
            return redirect("invoicing:drawings")
    status = 422 if form.is_bound else 200
    return render(
        request, "invoicing/drawings/drawing.html", {"form": form}, status=status
    )


@may("payment.record")
@require_http_methods(["GET", "POST"])
def drawing_drop(request: HttpRequest, move_id: int) -> HttpResponse:
    """Ask why, then take back what was recorded wrongly."""
    move = get_object_or_404(OwnerMove.objects.standing(), pk=move_id)
    form = TakeBackForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            drop_move(
                move_id=move.pk,
                because=form.cleaned_data["because"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "It counts no more.")
            return redirect("invoicing:drawings")
    context = {"form": form, "move": move}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/drawings/drawing.html", context, status=status)
