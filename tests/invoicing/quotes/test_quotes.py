from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from invoicing.invoices.models import InvoiceDraft
from invoicing.quotes.accepting import AlreadyAcceptedError, Yes, accept_quote
from invoicing.quotes.figures import figures_of
from invoicing.quotes.models import Acceptance
from invoicing.quotes.states import MOVES, QuoteMoveError, QuoteState, move
from jobs.bookings.states import BookingStatus
from jobs.jobs.states import JobStage
from studio.mail.models import Message
from tests.make import NOON, make_client, make_job
from tests.make_quotes import SESSION, make_quote, sent_quote

pytestmark = pytest.mark.django_db
YES = Yes(name="Merle Tarn")


@pytest.mark.parametrize("state", QuoteState)
@pytest.mark.parametrize("to", QuoteState)
def test_every_move_is_allowed_or_refused_by_the_table(
    state: QuoteState, to: QuoteState
) -> None:
    if to in MOVES[state]:
        assert move(state, to) == to
    else:
        with pytest.raises(QuoteMoveError):
            move(state, to)


def test_a_family_sees_one_price_with_the_tax_in_it() -> None:
    # 420.00 with 20 % in it holds 70.00: 420 / 6, common practice, no source.
    figures = figures_of(make_quote())

    assert figures.total.amount == Decimal("420.00")
    assert figures.tax.amount == Decimal("70.00")


def test_sending_freezes_the_quote_and_queues_the_letter() -> None:
    quote = sent_quote()

    message = Message.objects.get(occasion__startswith="quote:")
    assert quote.state == QuoteState.SENT
    assert message.link is not None
    assert quote.paper is not None


def test_the_yes_is_recorded_once_and_all_that_follows_is_done() -> None:
    quote = sent_quote()

    acceptance = accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    quote.refresh_from_db()
    quote.job.refresh_from_db()
    draft = InvoiceDraft.objects.get(job=quote.job)
    assert (quote.state, quote.job.stage) == (QuoteState.ACCEPTED, JobStage.BOOKED)
    assert quote.job.bookings.get().status == BookingStatus.PENCILLED
    assert (acceptance.total_minor, acceptance.deposit_minor) == (42_000, 10_000)
    assert draft.read_content.totals().gross == Decimal("100.00")
    with pytest.raises(AlreadyAcceptedError, match="accepted by Merle Tarn"):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)
    assert Acceptance.objects.count() == 1


def test_forty_lines_and_hostile_names_are_printed_over_two_pages() -> None:
    client = make_client('<img src="file:///etc/passwd"/> & Söhne')
    lines = tuple(
        type(SESSION)(description=f"Πορτρέτο Анна {n}", unit_price_minor=1_000)
        for n in range(40)
    )
    quote = sent_quote(make_job("Ugly", client=client), lines=lines)

    assert quote.paper is not None
    pages = PdfReader(BytesIO(bytes(quote.paper.content))).pages
    words = " ".join(page.extract_text() for page in pages)

    assert len(pages) >= 2
    assert '<img src="file:///etc/passwd"/> & Söhne' in " ".join(words.split())
    assert "Πορτρέτο Анна 39" in words
