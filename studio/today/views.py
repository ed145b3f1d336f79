"""Today: what is late, what is due, what comes next."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.http import staff
from studio.panels import today_items
from studio.people.access import may


@may("today.see")
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Go to Today."""
    return redirect("studio:today")


@may("today.see")
@require_safe
def today(request: HttpRequest) -> HttpResponse:
    """Show what needs doing, for this person."""
    at = timezone.now()
    items = today_items(staff(request).user, at)
    return render(request, "studio/today/today.html", {"items": items, "at": at})
