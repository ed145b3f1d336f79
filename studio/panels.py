"""What outer apps show on inner pages: parts of pages, and cards of Today.

An app registers in its own `panels.py`, found when the site starts; the page that
draws never learns who registered.
"""

from collections import defaultdict
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final, Literal

from django.utils.safestring import SafeString, mark_safe

from studio.http import StaffRequest
from studio.people.policy import POLICY, Hat

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
    """One thing that needs doing, as Today lists it.

    Of two items with the same `about` the one of the outer app stands: it knows more.
    """

    group: Literal["late", "today", "soon"]
    title: str
    reason: str
    url: str
    verb: str
    icon: str
    due_on: date | None = None
    amount_minor: int = 0
    about: str = ""


TodaySource = Callable[[Any, datetime], list[TodayItem]]


@dataclass(frozen=True, slots=True)
class _Source:
    action: str
    hat: Hat
    give: TodaySource


_today: Final[list[_Source]] = []


def on_today(
    *, action: str, hat: Hat | None = None
) -> Callable[[TodaySource], TodaySource]:
    """Register a source of things to do, for people who may do `action`.

    `hat` says whose work it is; without it, that of the hat that the action is for.
    """

    def register(source: TodaySource) -> TodaySource:
        _today.append(_Source(action, hat or _first_hat(action), source))
        return source

    return register


def today_items(person: Any, at: datetime, hats: Collection[Hat]) -> list[TodayItem]:
    """Return what people with these hats have to do, as far as this person may see."""
    items = [
        item
        for source in _today
        if source.hat in hats and person.may(source.action)
        for item in source.give(person, at)
    ]
    last = {item.about: item for item in items}
    items = [item for item in items if not item.about or last[item.about] is item]
    order = {"late": 0, "today": 1, "soon": 2}
    far = date.max
    return sorted(items, key=lambda item: (order[item.group], item.due_on or far))


def _first_hat(action: str) -> Hat:
    hats = POLICY[action]
    if Hat.PLANNER in hats and Hat.BOOKKEEPER not in hats:
        return Hat.PLANNER
    if Hat.BOOKKEEPER in hats and Hat.PLANNER not in hats:
        return Hat.BOOKKEEPER
    return Hat.OWNER
