"""The page of a test frame: a flash's real guide number, a modifier's real loss."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.kits.calibrating import (
    drop_measured,
    guide_words,
    keep_guide_number,
    keep_loss,
    loss_words,
    measured_of,
)
from jobs.kits.calibration_forms import LOSS, ProofFrameForm
from jobs.kits.models import KitCategory, KitItem
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.people.models import Person


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_proof(request: HttpRequest, item_id: int) -> HttpResponse:
    """Tell what a test frame was shot with, and keep what it shows."""
    flash = get_object_or_404(KitItem, pk=item_id, category=KitCategory.FLASH)
    form = ProofFrameForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            words = _keep(flash, form, staff(request).user)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, words)
            return redirect("jobs:kit_proof", flash.pk)
    context = {"flash": flash, "form": form, "measured": measured_of(flash)}
    return render(request, "jobs/kits/proof.html", context)


@may("kit.edit")
@require_POST
def kit_proof_drop(request: HttpRequest, item_id: int) -> HttpResponse:
    """Take a measured figure back; plans use the stated one again."""
    item = get_object_or_404(KitItem, pk=item_id)
    drop_measured(item_id=item.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, f"Plans use the written figure of {item} again.")
    return redirect(item)


def _keep(flash: KitItem, form: ProofFrameForm, by: Person) -> str:
    """Keep what the frame shows, and return it in words."""
    modifier, at = form.cleaned_data["modifier"], timezone.now()
    if form.cleaned_data["finds"] == LOSS:
        kept = keep_loss(
            flash_id=flash.pk,
            frame=form.frame(),
            modifier_id=modifier.pk,
            by=by,
            at=at,
        )
        return f"{kept}: {loss_words(kept)}."
    kept = keep_guide_number(
        flash_id=flash.pk, frame=form.frame(), modifier=modifier, by=by, at=at
    )
    return f"{kept}: {guide_words(kept)}."
