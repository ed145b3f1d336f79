"""A booking's checklist as pages and papers show it; nothing is written here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from jobs.bookings.models import Booking, Reservation
from jobs.bookings.wanted import items_of
from jobs.kits.models import KitItem
from planning.checklists.before import Evening
from planning.checklists.models import ChecklistItem, Section
from planning.checklists.need import Need, Want
from planning.checklists.needs import needs_of
from planning.checklists.offer import Offer
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import planned_shoot
from planning.weather.queries import latest_weather

OUT_BEFORE: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing to pack or do. `no_longer` asked for: ticked, but not in the plan."""

    key: str
    section: Section
    words: str
    reason: str
    ticked_at: datetime | None
    ticked_by: str
    no_longer: bool = False
    by_hand: bool = False
    kit_item_id: int | None = None
    want: Want | None = None
    bag: str = ""
    shelf: str = ""
    comes_back: str = ""
    offer: Offer | None = None

    @property
    def ticked(self) -> bool:
        """Whether it is packed or done."""
        return self.ticked_at is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The lines of one section."""

    section: Section
    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """What goes into one bag, or stands by itself."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """A booking's whole list, in sections, with how far it is."""

    booking_id: int
    groups: tuple[Group, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line of every section."""
        return tuple(line for group in self.groups for line in group.lines)

    @property
    def done(self) -> int:
        """How many lines are ticked."""
        return sum(line.ticked for line in self.lines)

    @property
    def total(self) -> int:
        """How many lines there are."""
        return len(self.lines)

    @property
    def packing(self) -> tuple[Line, ...]:
        """What goes into bags: everything but what is done before the day."""
        return tuple(one for one in self.lines if one.section != Section.BEFORE)

    @property
    def packed(self) -> int:
        """How much of the packing is ticked."""
        return sum(line.ticked for line in self.packing)

    @property
    def bags(self) -> tuple[Bag, ...]:
        """The packing by bag, as it is carried; what has none comes last."""
        names = {line.bag for line in self.packing}
        return tuple(
            Bag(
                title=name or "In no bag",
                lines=tuple(line for line in self.packing if line.bag == name),
            )
            for name in sorted(names, key=lambda name: (not name, name))
        )

    @property
    def before(self) -> tuple[Line, ...]:
        """What is to be done before the day."""
        return tuple(one for one in self.lines if one.section == Section.BEFORE)

    @property
    def own(self) -> tuple[Line, ...]:
        """What was added by hand."""
        return tuple(one for one in self.lines if one.by_hand)

    @property
    def open_words(self) -> str:
        """What is still open: "3 of 12 ticked"."""
        return f"{self.done} of {self.total} ticked"


def checklist_of(
    booking: Booking, shoot: PlannedShoot | None = None, *, whereabouts: bool = True
) -> Checklist:
    """Return a booking's list: what its plan asks for now, and what was ticked.

    `whereabouts`: also where each item is now, which only the list itself shows.
    """
    shoot = shoot or planned_shoot(booking)
    held = items_of(booking)
    rows = list(booking.checklist.select_related("ticked_by").order_by("pk"))
    lines = merged(needs_of(shoot, held, evening_of(booking)), rows)
    if whereabouts:
        lines = with_whereabouts(lines, booking=booking, items=held)
    groups = [
        Group(
            section=section,
            title=str(section.label),
            lines=tuple(line for line in lines if line.section == section),
        )
        for section in Section
    ]
    return Checklist(
        booking_id=booking.pk, groups=tuple(group for group in groups if group.lines)
    )


def evening_of(booking: Booking) -> Evening:
    """Return what is known of a session's day the evening before."""
    seen = latest_weather(booking)
    return Evening(
        clock_zone=booking.place.time_zone,
        temperature_c=seen.temperature_c if seen else None,
        weather_read_at=seen.read_at if seen else None,
    )


def merged(needs: Iterable[Need], rows: Iterable[ChecklistItem]) -> Sequence[Line]:
    """Return needs with their ticks, then own items and ticked ones left over."""
    standing = {row.key: row for row in rows}
    lines = [_of_need(need, standing.pop(need.key, None)) for need in needs]
    kept = [row for row in standing.values() if row.by_hand or row.ticked_at]
    return [*lines, *(_of_row(row) for row in kept)]


def with_whereabouts(
    lines: Iterable[Line], *, booking: Booking, items: Iterable[KitItem]
) -> list[Line]:
    """Return lines with the shelf of their item, or the session it comes back from.

    Only an item that is out within a day before is told of. One query.
    """
    shelves = {item.pk: item.shelf for item in items}
    rows = Reservation.objects.filter(
        kit_item__in=list(shelves),
        holds=True,
        ends_at__lte=booking.on_site_at,
        ends_at__gt=booking.on_site_at - OUT_BEFORE,
    )
    out = {
        row.kit_item_id: row.booking
        for row in rows.select_related("booking__job", "booking__place").order_by(
            "ends_at"
        )
    }
    return [
        replace(
            line,
            shelf=shelves.get(line.kit_item_id or 0, ""),
            comes_back=_back_words(out.get(line.kit_item_id)),
        )
        for line in lines
    ]


def _back_words(other: Booking | None) -> str:
    if other is None:
        return ""
    back = other.local_end
    return f"Comes back from {other.job.title} on {back:%a} at {back:%H:%M}."


def _of_need(need: Need, row: ChecklistItem | None) -> Line:
    return Line(
        key=need.key,
        section=need.section,
        words=need.words,
        reason=need.reason,
        ticked_at=row.ticked_at if row else None,
        ticked_by=str(row.ticked_by) if row and row.ticked_by else "",
        kit_item_id=need.kit_item_id,
        want=need.want,
        bag=need.bag,
    )


def _of_row(row: ChecklistItem) -> Line:
    return Line(
        key=row.key,
        section=Section(row.section),
        words=row.words,
        reason=row.reason,
        ticked_at=row.ticked_at,
        ticked_by=str(row.ticked_by) if row.ticked_by else "",
        no_longer=not row.by_hand,
        by_hand=row.by_hand,
    )
