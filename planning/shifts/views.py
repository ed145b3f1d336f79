"""Taking a shift back, from any page that says it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from planning.shifts.models import LightShift
from planning.shifts.operations import take_back_shift
from studio.http import sent_by_script, short_answer, staff
from studio.people.access import may


@may("location.use")
@require_POST
def shift_back(request: HttpRequest, shift_id: int) -> HttpResponse:
    """Let the plan stand again without that frame; a script hears it in words."""
    shift = get_object_or_404(LightShift, pk=shift_id)
    take_back_shift(shift_id=shift.pk, by=staff(request).user, at=timezone.now())
    words = "The shift is taken back."
    if sent_by_script(request):
        return short_answer(words)
    messages.success(request, words)
    return redirect("planning:readings", shift.booking_id)
