from datetime import timedelta
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from invoicing.invoices.models import InvoiceDraft
from invoicing.quotes.accepting import (
    AlreadyAcceptedError,
    NotOpenError,
    Yes,
    accept_quote,
)
from invoicing.quotes.models import Acceptance, How, Quote
from invoicing.quotes.operations import (
    QuoteError,
    StaleQuoteError,
    change_quote,
    new_version,
    send_quote,
)
from invoicing.quotes.queries import figures_of
from invoicing.quotes.states import MOVES, QuoteMoveError, QuoteState, move
from invoicing.quotes.tasks import lapse_quotes
from jobs.bookings.holding import ClashError
from jobs.bookings.operations import confirm_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.states import JobStage
from studio.links.models import PrivateLink
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from tests.make import NOON, make_booking, make_client, make_item, make_job, make_person
from tests.make_quotes import PRINT, SESSION, TERMS, make_quote, sent_quote

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
    # 515.00 with 20 % in it holds 85.83: 515 / 6, common practice, no source.
    quote = make_quote()
    extra = quote.lines.get(optional=True)

    figures = figures_of(quote, frozenset({extra.pk}))

    assert figures.total.amount == Decimal("515.00")
    assert figures.tax.amount == Decimal("85.83")
    assert figures_of(quote).total.amount == Decimal("420.00")


def test_sending_freezes_the_quote_and_queues_the_letter_with_its_link() -> None:
    quote = sent_quote()

    message = Message.objects.get(occasion=f"quote:{quote.pk}")
    assert quote.state == QuoteState.SENT
    assert "{link}" in message.body
    assert message.link is not None
    assert quote.paper is not None
    assert (
        quote.job.stage == JobStage.QUOTED or Quote.objects.get().job.stage == "QUOTED"
    )


def test_without_a_public_address_the_letter_carries_the_paper_and_no_link() -> None:
    quote = make_quote()
    StudioProfile.objects.update(public_address="")

    message = send_quote(
        quote_id=quote.pk,
        subject="Quote",
        body="Here: {link}",
        by=quote.job.owner,
        at=NOON,
    )

    assert message.link is None
    assert "{link}" not in message.body
    assert message.files.count() == 1


def test_a_quote_without_lines_is_not_sent() -> None:
    quote = make_quote(lines=(PRINT,))

    with pytest.raises(QuoteError, match="at least one line"):
        send_quote(quote_id=quote.pk, subject="", body="", by=quote.job.owner, at=NOON)


def test_the_yes_is_recorded_once_and_all_that_follows_is_done() -> None:
    quote = sent_quote()
    extra = quote.lines.get(optional=True)

    acceptance = accept_quote(
        quote_id=quote.pk,
        yes=Yes(name="Merle Tarn", chosen=frozenset({extra.pk})),
        at=NOON,
    )

    quote.refresh_from_db()
    quote.job.refresh_from_db()
    booking = quote.job.bookings.get()
    draft = InvoiceDraft.objects.get(job=quote.job)
    assert (quote.state, quote.job.stage) == (QuoteState.ACCEPTED, JobStage.BOOKED)
    assert booking.status == BookingStatus.PENCILLED
    assert (acceptance.total_minor, acceptance.deposit_minor) == (51_500, 10_000)
    assert draft.read_content.totals().gross == Decimal("100.00")
    assert quote.job.may_show_pictures is False
    with pytest.raises(
        AlreadyAcceptedError, match="accepted by Merle Tarn on 21 June 2026"
    ):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)
    assert Acceptance.objects.count() == 1


def test_nothing_to_pay_before_confirms_the_session_at_once() -> None:
    terms = type(TERMS)(valid_until_on=TERMS.valid_until_on)
    quote = sent_quote(terms=terms)

    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    assert quote.job.bookings.get().status == BookingStatus.CONFIRMED
    assert not InvoiceDraft.objects.exists()


def test_a_taken_time_records_nothing() -> None:
    tripod, ada = make_item(), make_person()
    job = make_job("Your family session")
    make_booking(job=job, items=(tripod,))
    quote = sent_quote(job)
    rival = make_booking(items=(tripod,))
    confirm_booking(booking_id=rival.pk, by=ada, at=NOON)

    with pytest.raises(ClashError):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    quote.refresh_from_db()
    assert quote.state == QuoteState.SENT
    assert not Acceptance.objects.exists()


def test_a_lapsed_price_is_not_accepted_on_the_page_but_may_be_recorded() -> None:
    quote = sent_quote()
    late = NOON + timedelta(days=15)
    with pytest.raises(NotOpenError, match="held until"):
        accept_quote(quote_id=quote.pk, yes=YES, at=late)

    by = quote.job.owner
    yes = Yes(name="Merle Tarn", how=How.PHONE)
    recorded = accept_quote(quote_id=quote.pk, yes=yes, at=late, by=by)

    assert recorded.recorded_by == by


def test_a_new_version_replaces_the_link_of_the_one_before() -> None:
    first = sent_quote()
    second = new_version(quote_id=first.pk, by=first.job.owner, at=NOON)
    send_quote(
        quote_id=second.pk, subject="Quote", body="{link}", by=first.job.owner, at=NOON
    )

    first.refresh_from_db()
    old = PrivateLink.objects.get(object_id=first.pk)
    assert (second.number, second.version) == (first.number, 2)
    assert first.state == QuoteState.REPLACED
    assert old.replaced
    with pytest.raises(NotOpenError):
        accept_quote(quote_id=first.pk, yes=YES, at=NOON)


def test_a_stale_edit_loses_nothing_and_changes_nothing() -> None:
    quote = make_quote()

    with pytest.raises(StaleQuoteError):
        change_quote(
            quote_id=quote.pk,
            terms=TERMS,
            lines=(SESSION,),
            edit_version=quote.edit_version - 1,
            by=quote.job.owner,
            at=NOON,
        )


def test_sent_quotes_lapse_when_their_day_has_passed() -> None:
    quote = sent_quote()
    Quote.objects.filter(pk=quote.pk).update(valid_until_on="2020-01-01")

    lapse_quotes()

    quote.refresh_from_db()
    assert quote.state == QuoteState.LAPSED


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
    assert pages[0].extract_text().count("Quantity") == 1
    assert pages[1].extract_text().count("Quantity") == 1
