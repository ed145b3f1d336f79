"""Making and sending call sheets."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from planning.callsheets.documents import print_call_sheet
from planning.callsheets.models import CallSheet
from planning.callsheets.people import Paper, Recipient, recipients_of
from planning.callsheets.queries import (
    content_hash,
    last_call_sheet,
    printed_call_sheet,
)
from planning.checklists.operations import refresh_checklist
from planning.session_pages.documents import print_session
from planning.session_pages.queries import printed_session
from planning.shoots.queries import planned_shoot
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.history.operations import record
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import long_date, phone_words

PDF = "application/pdf"


class CallSheetError(DomainError):
    """A call sheet cannot be made or sent as it stands."""


@transaction.atomic
def make_call_sheet(*, booking_id: int, by: Person, at: datetime) -> CallSheet:
    """Print what is planned for a booking as its next version, both papers at once.

    Where nothing changed since the last version, that one is returned.
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
    name = f"{_slug(booking.job.number)}-v{version}.pdf"
    made = CallSheet.objects.create(
        booking=booking,
        version=version,
        made_at=at,
        made_by=by,
        content_hash=content,
        sheet=_stored(f"call-sheet-{name}", print_call_sheet(sheet), at),
        session_page=_stored(f"your-session-{name}", print_session(page), at),
    )
    record(made, "made", by=by, at=at, data={"version": version})
    return made


@transaction.atomic
def send_call_sheet(*, call_sheet_id: int, by: Person, at: datetime) -> CallSheet:
    """Queue each paper for those it is for, once for each version and address.

    Raises CallSheetError for a version that was overtaken, for a cancelled session,
    and where nobody has an e-mail address.
    """
    sheets = CallSheet.objects.select_related("sheet", "session_page")
    sheet = sheets.select_for_update(of=("self",)).get(pk=call_sheet_id)
    booking = _locked(sheet.booking_id)
    _may_go(sheet, booking)
    recipients = recipients_of(booking)
    if not recipients:
        raise CallSheetError("Nobody of this session has an e-mail address.")
    for recipient in recipients:
        _write(sheet, booking, recipient, at)
    sheet.sent_at = at
    sheet.save(update_fields=["sent_at"])
    data = {"version": sheet.version, "messages": len(recipients)}
    record(sheet, "sent", by=by, at=at, data=data)
    return sheet


def _may_go(sheet: CallSheet, booking: Booking) -> None:
    if booking.status == BookingStatus.CANCELLED:
        raise CallSheetError("The session was cancelled, so nothing is sent.")
    last = last_call_sheet(booking)
    if last and last.pk != sheet.pk:
        raise CallSheetError(f"Version {last.version} was made since. Send that one.")


def _write(
    sheet: CallSheet, booking: Booking, recipient: Recipient, at: datetime
) -> None:
    is_crew = recipient.paper is Paper.SHEET
    body = _crew_words if is_crew else _client_words
    day = long_date(booking.local_start.date())
    subject = f"Call sheet, {booking.job.title}" if is_crew else "Your session"
    letter = Letter(
        address=recipient.address,
        recipient_name=recipient.name,
        subject=f"{subject}, {day}",
        body=body(sheet, booking, recipient),
    )
    write_message(
        occasion=sheet.occasion_for(recipient.address),
        about=booking.job,
        letter=letter,
        at=at,
        files=[sheet.sheet if is_crew else sheet.session_page],
    )


def _crew_words(sheet: CallSheet, booking: Booking, recipient: Recipient) -> str:
    on_site = booking.on_site_at.astimezone(booking.place.zone)
    again = (
        f"It replaces version {sheet.version - 1}; throw that one away.\n\n"
        if sheet.version > 1
        else ""
    )
    return (
        f"Dear {recipient.name},\n\n"
        f"Attached is the call sheet for {booking.job.title}, version {sheet.version}. "
        f"On site at {on_site:%H:%M} on {long_date(on_site.date())}, "
        f"{booking.place.name}.\n\n{again}"
        "It holds people’s phone numbers: keep it to the crew.\n\n"
        f"{StudioProfile.load()}\n"
    )


def _client_words(sheet: CallSheet, booking: Booking, recipient: Recipient) -> str:
    studio = StudioProfile.load()
    start = booking.local_start
    again = "It replaces the page that you had before.\n\n" if sheet.version > 1 else ""
    phone = phone_words(studio.phone)
    ring = f"If anything in it does not suit, ring {phone}.\n\n" if phone else ""
    return (
        f"Dear {recipient.name},\n\n"
        f"Your session is on {long_date(start.date())} at {start:%H:%M}, "
        f"{booking.place.name}. The page attached says where we meet, how it goes, "
        f"and what happens if it pours.\n\n{again}{ring}{studio}\n"
    )


def _stored(name: str, content: bytes, at: datetime) -> StoredFile:
    return store_file(name=name, content_type=PDF, content=content, at=at)


def _slug(words: str) -> str:
    kept = [sign if sign.isascii() and sign.isalnum() else "-" for sign in words]
    return "".join(kept)[:60]


def _locked(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("place", "job__client", "job__owner")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
