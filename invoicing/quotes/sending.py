"""Sending a quote: frozen, printed, and put into the outbox with a private link."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction

from invoicing.quotes.documents import print_quote
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import QuoteError, StaleQuoteError, go, locked
from invoicing.quotes.printed import printed_quote
from invoicing.quotes.snapshots import hash_of, snapshot_of
from invoicing.quotes.states import QuoteState, move
from jobs.jobs.operations import mark_quoted
from studio.faults import faultpoint
from studio.files.operations import store_file
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import make_link, revoke_links
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import long_date, phone_words

LINK = "{link}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterWords:
    """What the letter says that a quote goes out with; `{link}` stands for the page."""

    subject: str
    body: str


def send_quote(
    *, quote_id: int, letter: LetterWords | None, by: Person, at: datetime
) -> Quote:
    """Freeze a draft, print it, and send it; without a letter it is given by hand.

    An earlier version's link says from now on that it was replaced. Without a public
    address the letter carries the paper and no link. The paper is made before the
    transaction starts. Raises QuoteError, StaleQuoteError.
    """
    quotes = Quote.objects.select_related("job__client", "booking__place")
    quote = quotes.get(pk=quote_id)
    today = at.astimezone(StudioProfile.load().zone).date()
    if quote.state != QuoteState.DRAFT:
        raise QuoteError("This version went out before, or was replaced.")
    if said := missing(quote, on=today, by_mail=letter is not None):
        raise QuoteError(" ".join(said))
    snapshot = snapshot_of(quote, on=today)
    paper = print_quote(printed_quote(snapshot))
    return _send(quote_id, snapshot, paper, letter=letter, by=by, at=at)


def missing(quote: Quote, *, on: date, by_mail: bool = True) -> list[str]:
    """Return a sentence for each thing that a quote needs before it can be sent."""
    said: list[str] = []
    said += _missing_in_prices(quote)
    if quote.valid_until_on < on:
        said.append("Give a date after today for “Price holds until”.")
    if quote.booking and quote.booking.local_start.date() < on:
        said.append("The session’s date has passed.")
    if not quote.job.is_open:
        said.append("The job is closed.")
    if by_mail and not quote.job.client.email:
        said.append(f"{quote.job.client} has no e-mail address yet.")
    return said


def _missing_in_prices(quote: Quote) -> list[str]:
    contents = quote.contents()
    said: list[str] = []
    if not all(content.lines for _, content in contents):
        said.append("Add at least one line that is not an extra.")
    elif any(content.totals().gross <= 0 for _, content in contents):
        said.append("The total must be above zero.")
    if len(quote.package_names) == 1:
        said.append(
            f"“{quote.package_names[0]}” is the only package, so there is nothing to "
            "choose. Write a second one, or clear its name on each line."
        )
    if quote.has_discount and not quote.discount_reason:
        said.append("Say what the discount is for; the client reads it.")
    return said


def letter_for(quote: Quote) -> LetterWords:
    """Return the words that a quote goes out with; {link} stands for the page."""
    profile = StudioProfile.load()
    where = (
        f"You can read it, ask, and say yes here:\n{LINK}"
        if profile.public_address
        else "It comes with this message. To say yes, answer it or ring."
    )
    questions = f"\n\nQuestions? {phone_words(profile.phone)}" if profile.phone else ""
    what = "the new version of your quote" if quote.version > 1 else "the quote"
    body = (
        f"Dear {quote.job.client.addressee},\n\nhere is {what} for "
        f"“{quote.job.title}”. {where}\n\nThe price holds until "
        f"{long_date(quote.valid_until_on)}.{questions}\n\n"
        f"{profile.owner_name or profile.trading_name}\n"
    )
    subject = f"Your quote {quote.number} from {profile.trading_name}"
    return LetterWords(subject=subject, body=body)


@transaction.atomic
def _send(
    quote_id: int,
    snapshot: dict[str, Any],
    paper: bytes,
    *,
    letter: LetterWords | None,
    by: Person,
    at: datetime,
) -> Quote:
    earlier = _other_versions(snapshot["number"], quote_id)
    quote = locked(quote_id)
    frozen = hash_of(snapshot)
    today = date.fromisoformat(snapshot["quoted_on"])
    if hash_of(snapshot_of(quote, on=today)) != frozen:
        raise StaleQuoteError("Somebody changed this quote a moment ago. Look again.")
    for one in earlier:
        _replace(one, by=by, at=at)
    quote.state = move(quote.state, QuoteState.SENT)
    quote.sent_at = at
    quote.snapshot, quote.snapshot_hash = snapshot, frozen
    quote.paper = store_file(
        name=f"{quote.number}-v{quote.version}.pdf",
        content_type="application/pdf",
        content=paper,
        at=at,
    )
    quote.save()
    link = make_link(
        purpose=LinkPurpose.QUOTE, object_id=quote.pk, version=quote.version, at=at
    )
    if letter:
        _write(quote, letter, link, at=at)
    mark_quoted(job_id=quote.job_id, by=by, at=at)
    how = "mail" if letter else "by hand"
    record(quote, "sent", by=by, at=at, data={"hash": frozen, "how": how})
    faultpoint("before_commit")
    return quote


def _write(
    quote: Quote, letter: LetterWords, link: PrivateLink, *, at: datetime
) -> None:
    public = bool(StudioProfile.load().public_address)
    body = letter.body if public else letter.body.replace(LINK, "").rstrip() + "\n"
    client = quote.job.client
    write_message(
        occasion=f"quote:{quote.pk}",
        about=quote,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=letter.subject,
            body=body,
        ),
        at=at,
        link=link if public else None,
        files=[quote.paper] if quote.paper else [],
    )


def _other_versions(number: str, quote_id: int) -> list[Quote]:
    """Lock every version of a quote, the first one first; return the others."""
    versions = Quote.objects.select_for_update(of=("self",)).filter(number=number)
    others = [one for one in versions.order_by("version") if one.pk != quote_id]
    if any(one.state == QuoteState.ACCEPTED for one in others):
        raise QuoteError("An earlier version was accepted meanwhile.")
    return others


def _replace(quote: Quote, *, by: Person, at: datetime) -> None:
    if quote.state in (QuoteState.SENT, QuoteState.LAPSED, QuoteState.DECLINED):
        go(quote, QuoteState.REPLACED, by=by, at=at)
        revoke_links(
            purpose=LinkPurpose.QUOTE, object_id=quote.pk, at=at, replaced=True
        )
