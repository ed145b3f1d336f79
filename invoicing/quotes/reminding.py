"""Reminding a client, once per version, that a quote is about to run out."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.db import transaction

from invoicing.quotes.letters import live_link
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import QuoteError, locked
from invoicing.quotes.sending import LINK, LetterWords
from invoicing.quotes.states import QuoteState
from studio.history.operations import record
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import long_date, phone_words


def reminder_for(quote: Quote) -> LetterWords:
    """Return the words of a reminder; {link} stands for the private page."""
    profile = StudioProfile.load()
    where = (
        f" You can read it and answer here:\n{LINK}" if profile.public_address else ""
    )
    ring = f" or ring {phone_words(profile.phone)}" if profile.phone else ""
    body = (
        f"Dear {quote.job.client.addressee},\n\nthe price of our quote for "
        f"“{quote.job.title}” holds until {long_date(quote.valid_until_on)}.{where}\n\n"
        f"If something is unclear, answer this letter{ring}. If you have decided "
        "otherwise, a short word is welcome, and we will not write again.\n\n"
        f"{profile.owner_name or profile.trading_name}\n"
    )
    return LetterWords(
        subject=f"Your quote {quote.number} holds until "
        f"{quote.valid_until_on.day} {quote.valid_until_on:%B}",
        body=body,
    )


@transaction.atomic
def remind_of_quote(
    *, quote_id: int, letter: LetterWords | None, at: datetime, by: Person | None = None
) -> Quote:
    """Put a reminder into the outbox; without a letter it is the usual one.

    A version is reminded of once; the second time changes nothing. Raises QuoteError.
    """
    quote = locked(quote_id)
    if quote.reminded_at:
        return quote
    client = quote.job.client
    if quote.state != QuoteState.SENT or quote.valid_until_on < _day(at):
        raise QuoteError("This quote is not open any more; nothing was sent.")
    if not client.email:
        raise QuoteError(f"{client} has no e-mail address yet.")
    words = letter or reminder_for(quote)
    link = live_link(quote, at=at) if StudioProfile.load().public_address else None
    body = words.body if link else words.body.replace(LINK, "").rstrip() + "\n"
    write_message(
        occasion=f"quote-reminder:{quote.pk}",
        about=quote,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=words.subject,
            body=body,
        ),
        at=at,
        link=link,
    )
    quote.reminded_at = at
    quote.save(update_fields=["reminded_at"])
    record(quote, "reminded", by=by, at=at)
    return quote


def is_due(quote: Quote, *, at: datetime) -> bool:
    """Say whether a sent quote is to be reminded of: near its end, and not yet.

    Never on the day on which it went out, nor once its session is over.
    """
    days, today = StudioProfile.load().quote_reminder_days, _day(at)
    if not days or quote.reminded_at or quote.sent_at is None:
        return False
    session = (quote.snapshot or {})["session"]
    if session and datetime.fromisoformat(session["starts_at"]) <= at:
        return False
    near = quote.valid_until_on - timedelta(days=days) <= today <= quote.valid_until_on
    return near and _day(quote.sent_at) < today


def _day(at: datetime) -> date:
    return at.astimezone(StudioProfile.load().zone).date()
