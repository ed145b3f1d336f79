"""The page on which kit is ticked back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs.bookings.models import Booking
from jobs.returns.forms import KitBackForm
from jobs.returns.models import CameBack
from jobs.returns.operations import tick_kit_back
from jobs.returns.queries import bags_of, ticked_back
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("checklist.tick")
@require_http_methods(["GET", "POST"])
def kit_back(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Tick a session's kit back, bag by bag."""
    bookings = Booking.objects.select_related("job__client", "place")
    booking = get_object_or_404(bookings, pk=booking_id)
    bags, ticked = bags_of(booking), ticked_back(booking)
    data = request.POST if request.method == "POST" else None
    form = KitBackForm(data, bags=bags, ticked=ticked)
    if form.is_valid():
        try:
            changed = tick_kit_back(
                booking_id=booking.pk,
                items=form.backs(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The list is kept.")
            for row in changed:
                if row.state != CameBack.RETURNED:
                    words = f"{row.item} is on Today until it is back in order."
                    messages.warning(request, words)
            return redirect("jobs:kit_back", booking.pk)
    context = {
        "booking": booking,
        "form": form,
        "count": len(form.items),
        "back": sum(row.state == CameBack.RETURNED for row in ticked.values()),
    }
    return render(request, "jobs/returns/kit_back.html", context)
