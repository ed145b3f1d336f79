"""The diary's pages: a week as a list, a month as a table."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.diary.queries import (
    FIRST_YEAR,
    LAST_YEAR,
    diary_month,
    diary_week,
    week_of,
)
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("diary.see")
@require_safe
def diary(request: HttpRequest) -> HttpResponse:
    """Show a week or a month, each day with its light and its sessions."""
    at = timezone.now()
    today = at.astimezone(StudioProfile.load().zone).date()
    on = _asked(request.GET.get("on", ""), today)
    if request.GET.get("view") == "month":
        context: dict[str, object] = {
            "weeks": diary_month(on, at=at),
            "before": _month_before(on),
            "after": _month_after(on),
        }
        page = "jobs/diary/month.html"
    else:
        week = week_of(on)
        context = {
            "days": diary_week(on, at=at),
            "first": week[0],
            "last": week[-1],
            "before": on - timedelta(days=7),
            "after": on + timedelta(days=7),
        }
        page = "jobs/diary/week.html"
    context["acts"] = draw_panels("diary.acts", staff(request), on)
    return render(request, page, {"on": on, "today": today, **context})


def _asked(text: str, today: date) -> date:
    """Return the day asked for; today where none is, or none that can be shown."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return today
    return day if FIRST_YEAR <= day.year <= LAST_YEAR else today


def _month_before(on: date) -> date:
    return on.replace(day=1) - timedelta(days=1)


def _month_after(on: date) -> date:
    return on.replace(day=monthrange(on.year, on.month)[1]) + timedelta(days=1)
