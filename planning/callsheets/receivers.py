"""Who gets which paper, how far it is, and whether they say that they read it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Prefetch

from jobs.bookings.models import Booking
from planning.callsheets.models import CallSheet, SheetCopy, SheetReceiver
from planning.callsheets.people import Recipient, recipients_of
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import token_of
from studio.mail.models import Message


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """One who gets a paper: the message of this version, and what they have."""

    recipient: Recipient
    state: str
    receiver: SheetReceiver | None = None
    token: str = ""
    has: SheetCopy | None = None
    read: SheetCopy | None = None

    @property
    def read_it(self) -> bool:
        """Whether they read the newest version that they were sent."""
        return self.has is not None and self.has.read_at is not None


def deliveries_of(
    booking: Booking, sheet: CallSheet | None, *, at: datetime | None = None
) -> tuple[Delivery, ...]:
    """Return who gets which paper, with the state of the version's messages.

    Their pages' tokens are given for links that open something at that moment.
    """
    states = _states(sheet)
    known = {one.address: one for one in receivers_of(booking)}
    tokens = _tokens([one.pk for one in known.values()], at) if at else {}
    return tuple(
        _delivery(one, known.get(one.address.lower()), states, tokens, sheet)
        for one in recipients_of(booking)
    )


def receivers_of(booking: Booking) -> list[SheetReceiver]:
    """Return everybody who was sent a version, each with their copies in order."""
    copies = SheetCopy.objects.select_related("sheet").order_by("sheet__version")
    rows = booking.sheet_receivers.prefetch_related(Prefetch("copies", copies))
    return list(rows.order_by("pk"))


def last_copy(receiver: SheetReceiver | None) -> SheetCopy | None:
    """Return the newest version that somebody has been sent."""
    copies = list(receiver.copies.all()) if receiver else []
    return max(copies, key=lambda copy: copy.sheet.version, default=None)


def _delivery(
    one: Recipient,
    receiver: SheetReceiver | None,
    states: dict[str, str],
    tokens: dict[int, str],
    sheet: CallSheet | None,
) -> Delivery:
    copies = list(receiver.copies.all()) if receiver else []
    read = [copy for copy in copies if copy.read_at]
    return Delivery(
        recipient=one,
        state=states.get(sheet.occasion_for(one.address), "") if sheet else "",
        receiver=receiver,
        token=tokens.get(receiver.pk, "") if receiver else "",
        has=last_copy(receiver),
        read=read[-1] if read else None,
    )


def _states(sheet: CallSheet | None) -> dict[str, str]:
    if sheet is None:
        return {}
    messages = Message.objects.filter(occasion__startswith=sheet.occasion_stem)
    return {one.occasion: one.get_state_display() for one in messages}


def _tokens(receivers: list[int], at: datetime) -> dict[int, str]:
    links = PrivateLink.objects.filter(
        purpose=LinkPurpose.CALL_SHEET, object_id__in=receivers
    )
    return {link.object_id: token_of(link) for link in links.live(at=at).order_by("pk")}
