"""Making call sheets: the next version of both papers, its words kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from planning.callsheets.changes import Content
from planning.callsheets.documents import print_call_sheet
from planning.callsheets.kept import kept_content
from planning.callsheets.models import CallSheet
from planning.callsheets.people import Paper
from planning.callsheets.printed import PrintedCallSheet
from planning.callsheets.queries import (
    changes_between,
    content_hash,
    last_call_sheet,
    last_sent,
    printed_call_sheet,
    since_words,
)
from planning.checklists.operations import refresh_checklist
from planning.session_pages.documents import print_session
from planning.session_pages.printed import PrintedSession
from planning.session_pages.queries import printed_session
from planning.shoots.queries import planned_shoot
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.history.operations import record
from studio.people.models import Person

PDF = "application/pdf"


class CallSheetError(DomainError):
    """A call sheet cannot be made or sent as it stands."""


@transaction.atomic
def make_call_sheet(*, booking_id: int, by: Person, at: datetime) -> CallSheet:
    """Print what is planned for a booking as its next version, both papers at once.

    Where nothing changed since the last version, that one is returned. The papers say
    what changed since the last version that went out.
    """
    booking = _locked(booking_id)
    if booking.status == BookingStatus.CANCELLED:
        raise CallSheetError("The session was cancelled, so it gets no call sheet.")
    refresh_checklist(booking=booking, shoot=planned_shoot(booking))
    last = last_call_sheet(booking)
    version = last.version + 1 if last else 1
    sheet = printed_call_sheet(booking, version=version, at=at)
    page = printed_session(booking, at=at)
    content = content_hash(sheet, page)
    if last and last.content_hash == content:
        return last
    kept = kept_content(booking, sheet, page)
    sheet, page = _marked(booking, sheet, page, kept)
    name = f"{_slug(booking.job.number)}-v{version}.pdf"
    made = CallSheet.objects.create(
        booking=booking,
        version=version,
        made_at=at,
        made_by=by,
        content_hash=content,
        content=kept,
        sheet=_stored(f"call-sheet-{name}", print_call_sheet(sheet), at),
        session_page=_stored(f"your-session-{name}", print_session(page), at),
    )
    record(made, "made", by=by, at=at, data={"version": version})
    return made


def _marked(
    booking: Booking, sheet: PrintedCallSheet, page: PrintedSession, kept: Content
) -> tuple[PrintedCallSheet, PrintedSession]:
    """Return both papers with what changed since the version that people have."""
    was = last_sent(booking)
    if was is None:
        return sheet, page
    since = since_words(was, booking.place.zone)
    crew = changes_between(was, kept, Paper.SHEET)
    client = changes_between(was, kept, Paper.SESSION)
    return (
        replace(sheet, since=since, changes=crew),
        replace(page, since=since, changes=client),
    )


def _stored(name: str, content: bytes, at: datetime) -> StoredFile:
    return store_file(name=name, content_type=PDF, content=content, at=at)


def _slug(words: str) -> str:
    kept = [sign if sign.isascii() and sign.isalnum() else "-" for sign in words]
    return "".join(kept)[:60]


def _locked(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("place", "job__client", "job__owner")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
