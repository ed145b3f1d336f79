"""Pages that try a plan under other skies, later, or without a lens."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from planning.shoots.operations import change_set_ups
from planning.shoots.shifted import shown_shifts
from planning.shoots.views import booking_or_404
from planning.what_ifs.forms import WhatIfForm
from planning.what_ifs.queries import WhatIf, skies
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("plan.see")
@require_safe
def what_if(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show a plan under every sky, with a change if one is asked; nothing is saved."""
    booking = booking_or_404(booking_id)
    asked = bool(set(request.GET) & set(WhatIfForm.base_fields))
    form = WhatIfForm(request.GET if asked else None)
    tried = WhatIf(booking, form.change())
    context = {
        "booking": booking,
        "job": booking.job,
        "form": form,
        "tried": tried,
        "shifts": shown_shifts(tried.stands),
        "skies": skies(),
        "zone": booking.place.time_zone,
        "version": tried.plan.version if tried.plan else 0,
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, "planning/what_ifs/page.html", context, status=status)


@may("plan.edit")
@require_POST
def what_if_adopt(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Change the plan as it was tried."""
    booking = booking_or_404(booking_id)
    form = WhatIfForm(request.POST)
    tried = WhatIf(booking, form.change())
    if tried.plan is None or not tried.edits:
        messages.info(request, "There was nothing to change.")
        return redirect("planning:plan", booking.pk)
    try:
        change_set_ups(
            plan_id=tried.plan.pk,
            changes={pk: edit.fields for pk, edit in tried.edits.items()},
            by=staff(request).user,
            at=timezone.now(),
            version=_version(request),
        )
    except DomainError as refusal:
        messages.error(request, f"{refusal} Look at it again before you change it.")
        return redirect("planning:what_if", booking.pk)
    messages.success(request, "The plan is changed.")
    return redirect("planning:plan", booking.pk)


def _version(request: HttpRequest) -> int | None:
    given = request.POST.get("version", "")
    return int(given) if given.isascii() and given.isdigit() else None
