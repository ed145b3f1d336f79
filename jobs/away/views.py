"""The page of blocked time."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.away.forms import AwayForm
from jobs.away.models import BlockedTime
from jobs.away.operations import block_time, free_time
from jobs.away.queries import blocked_from, until_words
from jobs.bookings.holding import ClashError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("diary.block")
@require_http_methods(["GET", "POST"])
def away(request: HttpRequest) -> HttpResponse:
    """Show who is away when, and block more time."""
    by, at = staff(request).user, timezone.now()
    zone = StudioProfile.load().zone
    data = request.POST if request.method == "POST" else None
    form = AwayForm(data, initial={"who": str(by.pk)})
    if form.is_valid():
        try:
            block_time(absence=form.cleaned_data["absence"], by=by, at=at)
        except ClashError as refusal:
            form.add_error("from_day", f"{refusal} Move that session first.")
        else:
            messages.success(request, "The time is blocked.")
            return redirect("jobs:away")
    rows = [(one, until_words(one, zone)) for one in blocked_from(at)]
    context = {"form": form, "rows": rows}
    return render(request, "jobs/away/away.html", context)


@may("diary.block")
@require_POST
def away_free(request: HttpRequest, blocked_id: int) -> HttpResponse:
    """Give blocked time free again."""
    blocked = get_object_or_404(BlockedTime, pk=blocked_id)
    free_time(blocked_id=blocked.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "The time is free again.")
    return redirect("jobs:away")
