from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import DatabaseError, transaction

from invoicing.invoices.models import InvoiceDraft
from invoicing.quotes.accepting import (
    AlreadyAcceptedError,
    NotOpenError,
    PriceMovedError,
    SessionMovedError,
    Yes,
    accept_quote,
)
from invoicing.quotes.models import Acceptance, How, Quote
from invoicing.quotes.operations import QuoteError, let_quote_lapse, new_version
from invoicing.quotes.queries import accepted_order
from invoicing.quotes.sending import send_quote
from invoicing.quotes.states import QuoteState
from jobs.bookings.holding import ClashError
from jobs.bookings.operations import cancel_booking, confirm_booking, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.states import JobMoveError, JobStage
from studio.history.models import ActorKind, JournalEntry
from studio.mail.models import Message
from studio.profile.models import DepositKind, StudioProfile
from tests.make import NOON, make_booking, make_client, make_item, make_job, make_person
from tests.make_quotes import TERMS, sent_quote

pytestmark = pytest.mark.django_db
YES = Yes(name="Merle Tarn")


def test_the_yes_is_recorded_once_and_all_that_follows_is_done() -> None:
    quote = sent_quote()
    extra = quote.lines.get(optional=True)

    yes = replace(
        YES, chosen=frozenset({extra.pk, 99_999}), network_address="192.0.2.7"
    )
    acceptance = accept_quote(quote_id=quote.pk, yes=yes, at=NOON)

    quote.refresh_from_db()
    booking = quote.job.bookings.get()
    draft = InvoiceDraft.objects.get(job=quote.job)
    assert (quote.state, quote.job.stage) == (QuoteState.ACCEPTED, JobStage.BOOKED)
    assert booking.status == BookingStatus.PENCILLED
    assert acceptance.deposit_due_on == date(2026, 6, 28)
    assert booking.held_until is not None
    assert booking.held_until.isoformat() == "2026-06-28T22:59:00+00:00"
    assert (acceptance.total_minor, acceptance.deposit_minor) == (51_500, 10_000)
    assert (acceptance.quote_version, acceptance.snapshot_hash) == (
        quote.version,
        quote.snapshot_hash,
    )
    assert acceptance.network_address == "192.0.2.7"
    assert draft.read_content.totals().gross == Decimal("100.00")
    assert draft.due_days == 7


def test_the_second_to_accept_is_told_who_was_first() -> None:
    quote = sent_quote()
    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    said = "already accepted by Merle Tarn on Sunday 21 June 2026 at 13:00"
    with pytest.raises(AlreadyAcceptedError, match=said):
        accept_quote(quote_id=quote.pk, yes=replace(YES, name="Another"), at=NOON)

    assert Acceptance.objects.get().name == "Merle Tarn"


def test_a_draft_of_the_next_version_falls_with_the_yes_to_this_one() -> None:
    quote = sent_quote()
    draft = new_version(quote_id=quote.pk, by=quote.job.owner, at=NOON)

    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    draft.refresh_from_db()
    assert draft.state == QuoteState.REPLACED
    with pytest.raises(QuoteError, match="went out before"):
        send_quote(quote_id=draft.pk, letter=None, by=quote.job.owner, at=NOON)


def test_leave_to_show_pictures_is_asked_apart_and_starts_with_no() -> None:
    quote = sent_quote()
    first = accept_quote(quote_id=quote.pk, yes=YES, at=NOON)
    other = sent_quote(make_job(client=make_client("Other")))
    allowed = replace(YES, may_show_pictures=True)
    second = accept_quote(quote_id=other.pk, yes=allowed, at=NOON)

    assert (first.may_show_pictures, second.may_show_pictures) == (False, True)
    other.job.refresh_from_db()
    assert other.job.may_show_pictures is True


def test_a_sum_that_is_not_what_was_ticked_is_not_agreed_to() -> None:
    quote = sent_quote()
    extra = quote.lines.get(optional=True)
    stale = replace(YES, chosen=frozenset({extra.pk}), agreed_minor=42_000)

    with pytest.raises(PriceMovedError, match="£515\\.00"):
        accept_quote(quote_id=quote.pk, yes=stale, at=NOON)

    quote.refresh_from_db()
    assert quote.state == QuoteState.SENT


def test_nothing_to_pay_before_confirms_the_session_at_once() -> None:
    terms = replace(TERMS, deposit_kind=DepositKind.PERCENT, deposit_minor=0)
    quote = sent_quote(terms=terms)

    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    assert quote.job.bookings.get().status == BookingStatus.CONFIRMED
    assert not InvoiceDraft.objects.exists()
    thanks = Message.objects.get(occasion__startswith="thanks:")
    assert "Nothing is to be paid now." in thanks.body


def test_a_studio_may_let_the_yes_itself_confirm() -> None:
    StudioProfile.load()
    StudioProfile.objects.update(acceptance_confirms=True)
    quote = sent_quote()

    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    assert quote.job.bookings.get().status == BookingStatus.CONFIRMED
    assert InvoiceDraft.objects.exists()


def test_the_deposit_is_due_before_the_session_at_the_latest() -> None:
    job = make_job()
    make_booking(job=job, starts_at=NOON + timedelta(days=3))
    quote = sent_quote(job)

    acceptance = accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    assert acceptance.deposit_due_on == date(2026, 6, 24)


def test_a_session_pencilled_for_less_long_is_held_until_the_deposit_is_due() -> None:
    quote = sent_quote()
    booking = quote.job.bookings.get()
    soon = NOON + timedelta(days=1)
    pencil_booking(booking_id=booking.pk, until=soon, by=quote.job.owner, at=NOON)

    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    booking.refresh_from_db()
    assert booking.status == BookingStatus.PENCILLED
    assert booking.held_until == NOON.replace(day=28, hour=22, minute=59)


def test_a_taken_time_records_nothing() -> None:
    tripod, ada = make_item(), make_person()
    job = make_job("Your family session")
    make_booking(job=job, items=(tripod,))
    quote = sent_quote(job)
    rival = make_booking(items=(tripod,))
    confirm_booking(booking_id=rival.pk, by=ada, at=NOON)
    journal, letters = JournalEntry.objects.count(), Message.objects.count()

    with pytest.raises(ClashError):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    quote.refresh_from_db()
    quote.job.refresh_from_db()
    assert (quote.state, quote.job.stage) == (QuoteState.SENT, JobStage.QUOTED)
    assert not Acceptance.objects.exists()
    assert not InvoiceDraft.objects.exists()
    assert JournalEntry.objects.count() == journal
    assert Message.objects.count() == letters


def test_a_session_that_was_moved_or_called_off_is_not_accepted() -> None:
    quote = sent_quote()
    booking = quote.job.bookings.get()
    later = booking.starts_at + timedelta(minutes=15)
    quote.job.bookings.update(starts_at=later)
    with pytest.raises(SessionMovedError):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    quote.job.bookings.update(starts_at=booking.starts_at)
    cancel_booking(booking_id=booking.pk, by=quote.job.owner, at=NOON)
    with pytest.raises(SessionMovedError):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)


def test_a_lapsed_price_is_not_accepted_on_the_page_but_the_studio_may() -> None:
    quote = sent_quote()
    late = NOON + timedelta(days=15)
    quote.job.bookings.update(
        starts_at=NOON + timedelta(days=40), ends_at=NOON + timedelta(days=41)
    )
    quote = sent_quote(make_job(client=make_client("Late")))
    with pytest.raises(NotOpenError, match="held until"):
        accept_quote(quote_id=quote.pk, yes=YES, at=late)
    let_quote_lapse(quote_id=quote.pk, at=late)
    with pytest.raises(NotOpenError, match="not open"):
        accept_quote(quote_id=quote.pk, yes=YES, at=late)

    by = quote.job.owner
    said = NOON + timedelta(hours=2)
    yes = Yes(name="Merle Tarn", how=How.PHONE, said_at=said)
    recorded = accept_quote(quote_id=quote.pk, yes=yes, at=late, by=by)

    assert (recorded.recorded_by, recorded.how) == (by, How.PHONE)
    assert (recorded.accepted_at, recorded.recorded_at) == (said, late)


def test_a_closed_job_is_not_booked_by_a_late_yes() -> None:
    quote = sent_quote()
    quote.job.stage, quote.job.closed_at = JobStage.LOST, NOON
    quote.job.save()

    with pytest.raises(JobMoveError):
        accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    assert Quote.objects.get(pk=quote.pk).state == QuoteState.SENT


def test_the_journal_says_that_the_client_did_it_and_names_no_name() -> None:
    quote = sent_quote()
    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    entry = JournalEntry.objects.get(verb="accepted")
    assert entry.actor_kind == ActorKind.CLIENT
    assert entry.by is None
    assert "Merle" not in str(entry.data)
    assert entry.data["total_minor"] == 42_000


def test_both_sides_get_a_letter_with_what_to_pay() -> None:
    quote = sent_quote()
    acceptance = accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    studio = Message.objects.get(occasion=f"accepted:{acceptance.pk}")
    client = Message.objects.get(occasion=f"thanks:{acceptance.pk}")
    assert "Merle Tarn said yes" in studio.body
    assert "pay £100.00 by Sunday 28 June 2026" in client.body
    assert f"reference {quote.number}" in client.body
    assert "It is not a tax invoice." in client.body
    assert client.link is not None


def test_a_yes_is_never_rewritten() -> None:
    quote = sent_quote()
    accept_quote(quote_id=quote.pk, yes=YES, at=NOON)

    for change in ({"name": "X"}, {"total_minor": 1}, {"may_show_pictures": True}):
        with (
            pytest.raises(DatabaseError, match="never rewritten"),
            transaction.atomic(),
        ):
            Acceptance.objects.update(**change)


def test_invoices_are_drafted_from_what_was_agreed() -> None:
    quote = sent_quote()
    assert accepted_order(job_id=quote.job_id) is None
    extra = quote.lines.get(optional=True)
    yes = replace(YES, chosen=frozenset({extra.pk}))
    accept_quote(quote_id=quote.pk, yes=yes, at=NOON)

    order = accepted_order(job_id=quote.job_id)

    assert order is not None
    assert order.content.totals().gross == Decimal("515.00")
    assert (order.deposit_minor, order.payment_days) == (10_000, 14)
