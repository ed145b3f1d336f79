"""What outer apps show on inner pages: parts of pages, and cards of Today.

An app registers in its own `panels.py`, found when the site starts; the page that
draws never learns who registered.
"""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final, Literal

from django.utils.safestring import SafeString, mark_safe

from studio.http import StaffRequest

Panel = Callable[[StaffRequest, Any], SafeString | str]


@dataclass(frozen=True, slots=True)
class _Entry:
    order: int
    name: str
    draw: Panel
    action: str


_panels: Final[dict[str, list[_Entry]]] = defaultdict(list)


def show_on(place: str, *, action: str, order: int = 50) -> Callable[[Panel], Panel]:
    """Register a panel for a page, for people who may do `action`."""

    def register(panel: Panel) -> Panel:
        entry = _Entry(order, f"{panel.__module__}.{panel.__name__}", panel, action)
        _panels[place].append(entry)
        _panels[place].sort(key=lambda one: (one.order, one.name))
        return panel

    return register


def draw_panels(place: str, request: StaffRequest, subject: Any) -> SafeString:
    """Return what every app shows at a place of a page, for this person."""
    drawn = [
        entry.draw(request, subject)
        for entry in _panels[place]
        if request.user.may(entry.action)
    ]
    return mark_safe("".join(drawn))  # noqa: S308 - every panel renders a template


@dataclass(frozen=True, slots=True, kw_only=True)
class TodayItem:
    """One thing that needs doing, as Today lists it."""

    group: Literal["late", "today", "soon"]
    title: str
    reason: str
    url: str
    verb: str
    icon: str
    due_on: date | None = None
    amount_minor: int = 0


TodaySource = Callable[[Any, datetime], list[TodayItem]]
_today: Final[list[tuple[str, TodaySource]]] = []


def on_today(*, action: str) -> Callable[[TodaySource], TodaySource]:
    """Register a source of things to do, for people who may do `action`."""

    def register(source: TodaySource) -> TodaySource:
        _today.append((action, source))
        return source

    return register


def today_items(person: Any, at: datetime) -> list[TodayItem]:
    """Return what needs doing by this person, in the order of the groups."""
    items = [
        item
        for action, source in _today
        if person.may(action)
        for item in source(person, at)
    ]
    order = {"late": 0, "today": 1, "soon": 2}
    far = date.max
    return sorted(items, key=lambda item: (order[item.group], item.due_on or far))
