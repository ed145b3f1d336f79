"""What must be true of quotes: sent ones unchanged, one yes to what was shown."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Count

from invoicing.quotes.models import Acceptance, Quote
from invoicing.quotes.snapshots import Choice, Snapshot, content_of, hash_of
from invoicing.quotes.states import QuoteState
from studio.checks import verifies


@verifies("quotes as they were sent")
def changed_quotes() -> Iterator[str]:
    """Yield a sentence for each sent quote whose words are not those that were sent."""
    for quote in Quote.objects.filter(sent_at__isnull=False).order_by("pk").iterator():
        if hash_of(quote.snapshot or {}) != quote.snapshot_hash:
            yield f"What {quote} says was changed after it was sent."


@verifies("the yes to each quote")
def wrong_answers() -> Iterator[str]:
    """Yield a sentence for each yes that does not fit what was shown."""
    accepted = Acceptance.objects.select_related("quote").order_by("pk")
    for answer in accepted.iterator():
        quote, agreed = answer.quote, answer.agreed_content()
        shown = (quote.version, quote.snapshot_hash)
        if (answer.quote_version, answer.snapshot_hash) != shown:
            yield f"The yes to {quote} is to something else than was shown."
        if agreed.totals().gross != answer.total.amount:
            yield f"The sum agreed to in {quote} is not that of its lines."
        if not _was_shown(answer, quote.snapshot or {}):
            yield f"The lines agreed to in {quote} are not those that were shown."
    stands = Quote.objects.filter(state=QuoteState.ACCEPTED)
    for quote in stands.filter(acceptance__isnull=True):
        yield f"{quote} counts as accepted, and nobody said yes."
    numbers = stands.order_by().values("number").annotate(many=Count("pk"))
    for row in numbers.filter(many__gt=1):
        yield f"Two versions of {row['number']} were accepted."


def _was_shown(answer: Acceptance, snapshot: Snapshot) -> bool:
    agreed = answer.agreed_content()
    if not answer.chosen:  # a yes from before choices were kept
        base = content_of(snapshot).lines
        return agreed.lines[: len(base)] == base
    try:
        return agreed == content_of(snapshot, Choice.from_json(answer.chosen))
    except LookupError:
        return False
