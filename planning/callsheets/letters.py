"""The letters that call sheets go out with: crew's and client's."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.bookings.models import Booking
from planning.callsheets.models import CallSheet
from planning.callsheets.people import Paper, Recipient
from planning.callsheets.queries import changes_between, since_words
from studio.mail.operations import Letter
from studio.profile.models import StudioProfile
from studio.wording import long_date, phone_words


def letter_for(
    booking: Booking,
    sheet: CallSheet,
    recipient: Recipient,
    *,
    had: CallSheet | None,
    has_page: bool,
) -> Letter:
    """Return what one receiver is written: with what changed since what they had."""
    is_crew = recipient.paper is Paper.SHEET
    again = _again(booking, sheet, recipient, had)
    page = _page_words(is_crew=is_crew) if has_page else ""
    write = _crew_words if is_crew else _client_words
    subject = f"Call sheet, {booking.job.title}" if is_crew else "Your session"
    if had:
        subject = f"Changed: {subject}"
    return Letter(
        address=recipient.address,
        recipient_name=recipient.name,
        subject=f"{subject}, {long_date(booking.local_start.date())}",
        body=write(sheet, booking, recipient, f"{again}{page}"),
    )


def _again(
    booking: Booking, sheet: CallSheet, recipient: Recipient, had: CallSheet | None
) -> str:
    if had is None:
        return ""
    changes = changes_between(had, sheet.content, recipient.paper)
    if recipient.paper is Paper.SHEET:
        head = f"It replaces version {had.version}; throw that one away."
    else:
        head = "It replaces the page that you had before."
    if not changes:
        return f"{head} Nothing in it changed for you.\n\n"
    since = since_words(had, booking.place.zone)
    return f"{head} {since}:\n\n{_listed(changes)}\n\n"


def _listed(changes: Sequence[str]) -> str:
    # a brace from somebody's words must not read as the place of the link
    return "\n".join(f"- {one.replace('{', '(').replace('}', ')')}" for one in changes)


def _page_words(*, is_crew: bool) -> str:
    keep = " It opens without a password: pass it to nobody." if is_crew else ""
    return (
        "The newest version is always on this page, also on a phone. Please press "
        f"“I have read this version” there.{keep}\n\n{{link}}\n\n"
    )


def _crew_words(
    sheet: CallSheet, booking: Booking, recipient: Recipient, more: str
) -> str:
    on_site = booking.on_site_at.astimezone(booking.place.zone)
    return (
        f"Dear {recipient.name},\n\n"
        f"Attached is the call sheet for {booking.job.title}, version {sheet.version}. "
        f"On site at {on_site:%H:%M} on {long_date(on_site.date())}, "
        f"{booking.place.name}.\n\n{more}"
        "It holds people’s phone numbers: keep it to the crew.\n\n"
        f"{StudioProfile.load()}\n"
    )


def _client_words(
    sheet: CallSheet, booking: Booking, recipient: Recipient, more: str
) -> str:
    studio = StudioProfile.load()
    start = booking.local_start
    phone = phone_words(studio.phone)
    ring = f"If anything in it does not suit, ring {phone}.\n\n" if phone else ""
    return (
        f"Dear {recipient.name},\n\n"
        f"Your session is on {long_date(start.date())} at {start:%H:%M}, "
        f"{booking.place.name}. The page attached says where we meet, how it goes, "
        f"and what happens if it pours.\n\n{more}{ring}{studio}\n"
    )
