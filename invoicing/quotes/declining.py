"""The no to a quote: who said it, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from invoicing.quotes.letters import tell_of_no
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import go, locked
from invoicing.quotes.states import QuoteState
from studio.history.models import ActorKind
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class No:
    """Why a client does not take a quote: a reason of the list, and their words."""

    reason: str = ""
    words: str = ""


@transaction.atomic
def decline_quote(
    *, quote_id: int, no: No, at: datetime, by: Person | None = None
) -> Quote:
    """Note that the client said no and why; `by` nobody, it was on their own page.

    The studio is told by e-mail of a no on the page. Raises QuoteMoveError.
    """
    quote = locked(quote_id)
    kind = None if by else ActorKind.CLIENT
    quote.declined_at = at
    quote.decline_reason, quote.decline_words = no.reason, no.words.strip()
    quote.save(update_fields=["declined_at", "decline_reason", "decline_words"])
    go(quote, QuoteState.DECLINED, by=by, at=at, kind=kind)
    if by is None:
        tell_of_no(quote, at=at)
    return quote
