"""Call sheets for pages: versions, what holds, and what changed between them."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from jobs.bookings.models import Booking
from planning.callsheets.changes import Content, client_changes, crew_changes
from planning.callsheets.models import CallSheet
from planning.callsheets.people import Paper
from planning.callsheets.printed import PrintedCallSheet
from planning.callsheets.sheet_content import printed_call_sheet
from planning.session_pages.printed import PrintedSession
from planning.session_pages.queries import printed_session
from studio.wording import day_plain

__all__ = ["PrintedCallSheet", "PrintedSession", "printed_call_sheet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The last version of a booking's call sheet, and whether it still holds."""

    last: CallSheet | None
    is_current: bool

    @property
    def was_sent(self) -> bool:
        """Whether the version that holds has gone out."""
        return self.is_current and self.last is not None and bool(self.last.sent_at)


def last_call_sheet(booking: Booking) -> CallSheet | None:
    """Return a booking's last version, without the bytes of its papers."""
    return booking.call_sheets.select_related("made_by").order_by("-version").first()


def content_hash(sheet: PrintedCallSheet, page: PrintedSession) -> str:
    """Return the SHA-256 of what both papers say, whenever they are printed."""
    said = (
        replace(sheet, version=0, printed="", since="", changes=()),
        replace(page, foot="", since="", changes=()),
    )
    return hashlib.sha256(repr(said).encode()).hexdigest()


def standing_of(booking: Booking, at: datetime) -> Standing:
    """Return a booking's last version, held against what is planned now."""
    last = last_call_sheet(booking)
    if last is None:
        return Standing(last=None, is_current=False)
    sheet = printed_call_sheet(booking, version=last.version, at=at)
    now = content_hash(sheet, printed_session(booking, at=at))
    return Standing(last=last, is_current=now == last.content_hash)


def versions_of(booking: Booking) -> list[CallSheet]:
    """Return every version of a booking's call sheet, the newest first."""
    return list(booking.call_sheets.select_related("made_by").order_by("-version"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """A version in the list of all, with what changed since the one before."""

    sheet: CallSheet
    changes: tuple[str, ...]


def history_of(booking: Booking) -> tuple[Past, ...]:
    """Return every version, the newest first, with what it changed for the crew."""
    return past_of(versions_of(booking))


def past_of(sheets: Sequence[CallSheet]) -> tuple[Past, ...]:
    """Return versions, the newest first, with what each changed for the crew."""
    before = [*sheets[1:], None][: len(sheets)]
    return tuple(
        Past(sheet=one, changes=changes_between(was, one.content, Paper.SHEET))
        for one, was in zip(sheets, before, strict=True)
    )


def last_sent(booking: Booking) -> CallSheet | None:
    """Return the newest version that has gone out, which is the one people see."""
    sent = booking.call_sheets.filter(sent_at__isnull=False)
    return sent.order_by("-version").first()


def since_words(sheet: CallSheet, zone: ZoneInfo) -> str:
    """Return what changes are counted from: "Changed since version 2 of 28 Nov"."""
    local = sheet.made_at.astimezone(zone)
    return f"Changed since version {sheet.version} of {day_plain(local)}"


def changes_between(
    was: CallSheet | None, now: Content, paper: Paper
) -> tuple[str, ...]:
    """Return what one kind of paper says otherwise than an earlier version did."""
    if was is None:
        return ()
    told = crew_changes if paper is Paper.SHEET else client_changes
    return told(was.content, now)
