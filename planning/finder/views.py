"""The pages of the finder: the search, and for which job a slot is meant."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.bookings.asked import asked_address, read_asked
from jobs.jobs.models import Job
from planning.finder.forms import FinderForm, usual_search
from planning.finder.queries import answer
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

MOST_JOBS = 50


@may("finder.use")
@require_safe
def finder(request: HttpRequest) -> HttpResponse:
    """Search for slots; without a question, show the form as it usually is."""
    at = timezone.now()
    if "kind" not in request.GET:
        today = at.astimezone(StudioProfile.load().zone).date()
        usual = usual_search(today=today, person=staff(request).user)
        named = {name: request.GET.get(name) for name in ("place", "job")}
        form = FinderForm(at=at, initial=usual | named)
        return render(request, "planning/finder/finder.html", {"form": form})
    form = FinderForm(request.GET, at=at)
    context: dict[str, object] = {"form": form, "by_date": _by_date(request)}
    if form.is_valid():
        asked = form.asked(by_date=_by_date(request))
        context["asked"] = asked
        context["answer"] = answer(asked, page=request.GET.get("page", "1"))
    return render(request, "planning/finder/finder.html", context)


@may("finder.use")
@require_safe
def finder_hold(request: HttpRequest) -> HttpResponse:
    """Ask for which open job a slot is meant; each leads to its session's form."""
    asked = read_asked(request.GET)
    context = {
        "asked": asked,
        "query": asked_address(asked) if asked else "",
        "jobs": Job.objects.open().select_related("client").order_by("-pk")[:MOST_JOBS],
    }
    return render(request, "planning/finder/hold.html", context)


def _by_date(request: HttpRequest) -> bool:
    return request.GET.get("order") == "date"
