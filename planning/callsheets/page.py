"""The newest version as one receiver sees it behind their private link."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from planning.callsheets.changes import changed_facts, changed_set_ups
from planning.callsheets.models import CallSheet, SheetCopy, SheetReceiver
from planning.callsheets.people import Paper, recipients_of
from planning.callsheets.queries import changes_between, last_sent, since_words
from planning.shoots.charts.strip import strip_of
from planning.shoots.daylight import Where
from studio.scene.day_phases import Block
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing

WIDE: Final = StripLook(width=640.0)
NARROW: Final = StripLook(width=330.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPage:
    """What one receiver may see of the newest version, and what is new to them.

    `words` are those of their own paper only: the client's hold neither kit nor notes.
    """

    sheet: CallSheet
    is_crew: bool
    name: str
    words: dict[str, Any]
    since: str
    changes: tuple[str, ...]
    new_facts: frozenset[str]
    new_set_ups: frozenset[int]
    copy: SheetCopy | None
    is_off: bool

    @property
    def strip(self) -> Drawing | None:
        """The day's light on a wide screen."""
        return self._strip(WIDE)

    @property
    def narrow_strip(self) -> Drawing | None:
        """The day's light on a phone."""
        return self._strip(NARROW)

    def _strip(self, look: StripLook) -> Drawing | None:
        kept = self.sheet.content.get("strip")
        if not kept:
            return None
        where = Where(
            latitude_deg=kept["latitude_deg"],
            longitude_deg=kept["longitude_deg"],
            time_zone=kept["time_zone"],
        )
        first = kept["first_minute"]
        last = max(kept["last_minute"], first + 1)
        block = Block(start_minute=first, end_minute=last)
        return strip_of(
            where, date.fromisoformat(kept["on"]), blocks=(block,), look=look
        )


def sheet_page(receiver: SheetReceiver, booking: Booking) -> SheetPage | None:
    """Return what a receiver sees; None for one who gets no papers any more."""
    papers = {one.address.lower(): one.paper for one in recipients_of(booking)}
    paper = papers.get(receiver.address)
    sheet = last_sent(booking)
    if paper is None or sheet is None:
        return None
    part = "sheet" if paper is Paper.SHEET else "page"
    copies = list(receiver.copies.select_related("sheet").order_by("sheet__version"))
    was = _counted_from(copies, sheet)
    before = was.content if was else {}
    return SheetPage(
        sheet=sheet,
        is_crew=paper is Paper.SHEET,
        name=receiver.name,
        words=sheet.content.get(part, {}),
        since=since_words(was, booking.place.zone) if was else "",
        changes=changes_between(was, sheet.content, paper),
        new_facts=changed_facts(before, sheet.content, part),
        new_set_ups=changed_set_ups(before, sheet.content),
        copy=next((one for one in copies if one.sheet_id == sheet.pk), None),
        is_off=booking.status == BookingStatus.CANCELLED,
    )


def _counted_from(copies: list[SheetCopy], sheet: CallSheet) -> CallSheet | None:
    """Return the version that changes are counted from: the last one that was read
    before this one, or else the last that was sent."""
    earlier = [one for one in copies if one.sheet.version < sheet.version]
    read = [one for one in earlier if one.read_at]
    return (read or earlier)[-1].sheet if earlier else None
