"""Today: what is late, what is due, what comes next; and the search behind the bar."""

from __future__ import annotations

from collections.abc import Collection

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.http import staff
from studio.panels import TodayItem, draw_panels, today_items
from studio.people.access import may
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.models import StudioProfile
from studio.search import Finds, find

GROUPS = (("late", "Late"), ("today", "Today"), ("soon", "Coming up"))


@may("today.see")
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Go to Today."""
    return redirect("studio:today")


@may("today.see")
@require_safe
def today(request: HttpRequest) -> HttpResponse:
    """Show what needs doing: mine, another hat's, or everyone's."""
    person, at = staff(request).user, timezone.now()
    wanted = request.GET.get("for", "mine")
    hats = _hats(person, wanted)
    items = today_items(person, at, hats)
    context = {
        "groups": _grouped(items),
        "count": len(items),
        "day": at.astimezone(StudioProfile.load().zone).date(),
        "choices": _choices(person, wanted),
        "top": draw_panels("today.top", staff(request), at),
        "side": draw_panels("today.side", staff(request), at),
    }
    return render(request, "studio/today/today.html", context)


@may("search.use")
@require_safe
def search(request: HttpRequest) -> HttpResponse:
    """Show what the one search box finds."""
    words = request.GET.get("q", "").strip()[:100]
    found = find(words, person=staff(request).user) if len(words) > 1 else Finds()
    if len(found.rows) == 1:
        return redirect(found.rows[0].url)
    context = {"search_words": words, "found": found}
    return render(request, "studio/search/search.html", context)


def _hats(person: Person, wanted: str) -> Collection[Hat]:
    if wanted == "everyone":
        return list(Hat)
    if wanted.upper() in Hat.values:
        return [Hat(wanted.upper())]
    others = Person.objects.filter(is_active=True).exclude(pk=person.pk)
    taken = {hat for other in others for hat in other.hats}
    left = set(Hat) - taken if Hat.OWNER in person.hats else set()
    return person.hats | left


def _grouped(items: list[TodayItem]) -> list[tuple[str, str, list[TodayItem]]]:
    groups = [
        (key, name, [item for item in items if item.group == key])
        for key, name in GROUPS
    ]
    return [group for group in groups if group[2]]


def _choices(person: Person, wanted: str) -> list[tuple[str, str, bool]]:
    names = [("mine", "Mine")]
    names += [(hat.value.lower(), hat.label) for hat in Hat if hat not in person.hats]
    names.append(("everyone", "Everyone"))
    return [(key, label, key == wanted) for key, label in names]
