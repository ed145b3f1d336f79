"""Sending call sheets: each receiver's paper, page and what changed for them."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from planning.callsheets.gaps import missing
from planning.callsheets.letters import letter_for
from planning.callsheets.models import CallSheet, SheetCopy, SheetReceiver
from planning.callsheets.operations import CallSheetError
from planning.callsheets.people import Paper, Recipient, recipients_of
from planning.callsheets.queries import last_call_sheet
from planning.callsheets.receivers import last_copy, receivers_of
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import LASTS, make_link, revoke_links
from studio.mail.operations import write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile

STAYS_OPEN: Final = timedelta(days=1)
"""How long after a session its private pages still open."""


class GapsError(CallSheetError):
    """The papers lack something, and nobody has said that they go all the same."""


@transaction.atomic
def send_call_sheet(
    *, call_sheet_id: int, by: Person, at: datetime, despite_gaps: bool = False
) -> CallSheet:
    """Queue each paper for those it is for, once for each version and address.

    Whoever gets none any more loses their private page. Raises CallSheetError for a
    version that was overtaken, for a cancelled session, and where nobody has an
    e-mail address; GapsError where something is missing, unless that was accepted.
    """
    sheets = CallSheet.objects.select_related("sheet", "session_page")
    sheet = sheets.select_for_update(of=("self",)).get(pk=call_sheet_id)
    booking = _locked(sheet.booking_id)
    _may_go(sheet, booking)
    recipients = recipients_of(booking)
    if not recipients:
        raise CallSheetError("Nobody of this session has an e-mail address.")
    if not despite_gaps and missing(booking, at=at):
        raise GapsError("Something is missing. Tick that it goes out all the same.")
    known = {one.address: one for one in receivers_of(booking)}
    for recipient in recipients:
        _send(sheet, booking, recipient, known.pop(recipient.address.lower(), None), at)
    for gone in known.values():
        _close(gone, at)
    sheet.sent_at = at
    sheet.save(update_fields=["sent_at"])
    data = {"version": sheet.version, "messages": len(recipients)}
    record(sheet, "sent", by=by, at=at, data=data)
    return sheet


@transaction.atomic
def note_read(*, call_sheet_id: int, receiver_id: int, at: datetime) -> SheetCopy:
    """Note that a receiver says they read a version; the first time counts."""
    copy, _ = SheetCopy.objects.get_or_create(
        sheet_id=call_sheet_id, receiver_id=receiver_id, defaults={"sent_at": at}
    )
    if copy.read_at is None:
        copy.read_at = at
        copy.save(update_fields=["read_at"])
        data = {"version": copy.sheet.version}
        kind = ActorKind.CLIENT
        record(copy.sheet, "read", by=None, at=at, kind=kind, data=data)
    return copy


@transaction.atomic
def close_sheet_page(*, receiver_id: int, by: Person, at: datetime) -> SheetReceiver:
    """Take a receiver's private page away; the next version opens a new one."""
    receiver = SheetReceiver.objects.select_for_update(of=("self",)).get(pk=receiver_id)
    if _close(receiver, at):
        record(receiver.booking, "private page closed", by=by, at=at)
    return receiver


def _close(receiver: SheetReceiver, at: datetime) -> int:
    purpose = LinkPurpose.CALL_SHEET
    return revoke_links(purpose=purpose, object_id=receiver.pk, at=at)


def _may_go(sheet: CallSheet, booking: Booking) -> None:
    if booking.status == BookingStatus.CANCELLED:
        raise CallSheetError("The session was cancelled, so nothing is sent.")
    last = last_call_sheet(booking)
    if last and last.pk != sheet.pk:
        raise CallSheetError(f"Version {last.version} was made since. Send that one.")


def _send(
    sheet: CallSheet,
    booking: Booking,
    recipient: Recipient,
    receiver: SheetReceiver | None,
    at: datetime,
) -> None:
    had = last_copy(receiver)
    if had and had.sheet_id == sheet.pk:
        return
    receiver = receiver or SheetReceiver(
        booking=booking, address=recipient.address.lower()
    )
    receiver.name = recipient.name[:200]
    receiver.save()
    page = _page_of(receiver, booking, at)
    link = page if StudioProfile.load().public_address else None
    write_message(
        occasion=sheet.occasion_for(recipient.address),
        about=booking.job,
        letter=letter_for(
            booking,
            sheet,
            recipient,
            had=had.sheet if had else None,
            has_page=bool(link),
        ),
        at=at,
        link=link,
        files=[sheet.sheet if recipient.paper is Paper.SHEET else sheet.session_page],
    )
    SheetCopy.objects.create(sheet=sheet, receiver=receiver, sent_at=at)


def _page_of(receiver: SheetReceiver, booking: Booking, at: datetime) -> PrivateLink:
    """Return the receiver's page: the one they have, while it still opens."""
    purpose = LinkPurpose.CALL_SHEET
    needed = booking.ends_at + STAYS_OPEN
    links = PrivateLink.objects.of(purpose, receiver.pk).live(at=at)
    if link := links.filter(expires_at__gte=needed).order_by("-pk").first():
        return link
    lasts = max(needed - at, LASTS)
    return make_link(purpose=purpose, object_id=receiver.pk, at=at, lasts=lasts)


def _locked(booking_id: int) -> Booking:
    bookings = Booking.objects.select_related("place", "job__client", "job__owner")
    return bookings.select_for_update(of=("self",)).get(pk=booking_id)
