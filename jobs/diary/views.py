"""The diary's pages: a day, a week or eight weeks as rows, a month as a table."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, datetime, time, timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.diary.queries import (
    FIRST_YEAR,
    LAST_YEAR,
    LIST_DAYS,
    diary_day,
    diary_list,
    diary_month,
    diary_week,
    month_of,
    week_of,
)
from jobs.diary.worries import Worry, worries_during
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan


@may("diary.see")
@require_safe
def diary(request: HttpRequest) -> HttpResponse:
    """Show days, a week or a month, each day with its light and its sessions."""
    at = timezone.now()
    today = at.astimezone(StudioProfile.load().zone).date()
    on = _asked(request.GET.get("on", ""), today)
    view = request.GET.get("view", "")
    if view == "month":
        context: dict[str, Any] = {
            "weeks": diary_month(on, at=at),
            "before": _month_before(on),
            "after": _month_after(on),
            "worries": _worries(month_of(on)[0][0], month_of(on)[-1][-1], at),
        }
        page = "jobs/diary/month.html"
    else:
        context = _days(view, on, at)
        page = "jobs/diary/days.html"
    context["acts"] = draw_panels("diary.acts", staff(request), on)
    return render(request, page, {"on": on, "today": today, **context})


def _days(view: str, on: date, at: datetime) -> dict[str, Any]:
    """Return what a list of days shows: one, a week, or what eight weeks hold."""
    if view == "day":
        first, days, rows = on, 1, diary_day(on, at=at)
    elif view == "list":
        first, days, rows = on, LIST_DAYS, diary_list(on, at=at)
    else:
        view, first, days, rows = "week", week_of(on)[0], 7, diary_week(on, at=at)
    last = first + timedelta(days=days - 1)
    return {
        "worries": _worries(first, last, at),
        "view": view,
        "days": rows,
        "first": first,
        "last": last,
        "before": on - timedelta(days=days),
        "after": on + timedelta(days=days),
    }


def _worries(first: date, last: date, at: datetime) -> list[Worry]:
    """Return what does not go together from now on, in whole days of the studio."""
    zone = StudioProfile.load().zone
    start = datetime.combine(first, time(), tzinfo=zone)
    end = datetime.combine(last + timedelta(days=1), time(), tzinfo=zone)
    return worries_during(TimeSpan(max(start, at), end)) if at < end else []


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
