"""The page of the light of a date; no job is needed for it."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from planning.days.forms import LightDayForm
from planning.days.queries import Spot, home_spot, shown_day, spot_at, spot_of
from studio.people.access import may


@may("light.see")
@require_safe
def light_day(request: HttpRequest) -> HttpResponse:
    """Show the light of a date at a saved place, at coordinates, or at home."""
    home, at = home_spot(), timezone.now()
    home_name = f"{home.name}, home" if home else ""
    zone = home.where.zone if home else None
    form = LightDayForm(
        request.GET or None,
        home_name=home_name,
        initial={"on": at.astimezone(zone).date()},
    )
    spot, on = home, None
    if form.is_bound:
        spot = _chosen(form, home) if form.is_valid() else None
        on = form.cleaned_data.get("on") if form.is_valid() else None
    context: dict[str, object] = {"form": form, "day": None}
    if spot is not None:
        today: date = at.astimezone(spot.where.zone).date()
        context["day"] = shown_day(spot, on or today, at)
    return render(request, "planning/days/light_day.html", context)


def _chosen(form: LightDayForm, home: Spot | None) -> Spot | None:
    """Return what was asked for; coordinates win over a place from the list."""
    if position := form.cleaned_data["position"]:
        return spot_at(*position)
    if place := form.cleaned_data["place"]:
        return spot_of(place)
    return home
