from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction

from invoicing.quotes.models import Quote, QuoteLine
from invoicing.quotes.operations import QuoteError, new_version
from invoicing.quotes.sending import LetterWords, letter_for, missing, send_quote
from invoicing.quotes.snapshots import hash_of
from invoicing.quotes.states import QuoteState
from jobs.jobs.states import JobStage
from studio.links.models import LinkPurpose, PrivateLink
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from tests.make import NOON, make_client, make_job
from tests.make_quotes import PRINT, TERMS, make_quote, sent_quote

pytestmark = pytest.mark.django_db
LETTER = LetterWords(subject="Your quote", body="Here: {link}")


def test_sending_freezes_the_quote_and_queues_the_letter_with_its_link() -> None:
    quote = sent_quote()

    message = Message.objects.get(occasion=f"quote:{quote.pk}")
    assert quote.state == QuoteState.SENT
    assert quote.snapshot_hash == hash_of(quote.snapshot or {})
    assert "{link}" in message.body
    assert message.link == PrivateLink.objects.get()
    assert message.link.version == quote.version
    assert list(message.files.all()) == [quote.paper]
    assert quote.job.stage == JobStage.QUOTED


def test_what_was_sent_stays_whatever_changes_afterwards() -> None:
    quote = sent_quote()
    before = hash_of(quote.snapshot or {})

    StudioProfile.objects.update(terms="Quite other terms.", phone="01632 960999")
    quote.job.client.name = "Somebody else"
    quote.job.client.save()

    quote.refresh_from_db()
    frozen = quote.snapshot or {}
    assert hash_of(frozen) == before == quote.snapshot_hash
    assert frozen["terms"] == "The plain terms of the studio."
    assert frozen["buyer"]["name"] == "Meyer Bakery"


def test_the_database_refuses_to_rewrite_a_sent_quote() -> None:
    quote = sent_quote()
    quotes, lines = Quote.objects.filter(pk=quote.pk), quote.lines.all()

    for rewrite in (
        lambda: quotes.update(snapshot={}),
        lambda: quotes.update(valid_until_on="2999-01-01"),
        lambda: quotes.update(sent_at=None),
        quotes.delete,
        lambda: lines.update(unit_price_minor=1),
        lines.delete,
        lambda: QuoteLine.objects.create(
            quote=quote, position=9, description="More", unit_price_minor=1
        ),
    ):
        with (
            pytest.raises(DatabaseError, match="never rewritten"),
            transaction.atomic(),
        ):
            rewrite()
    quotes.update(state=QuoteState.LAPSED)


def test_without_a_public_address_the_letter_carries_the_paper_and_no_link() -> None:
    quote = make_quote()
    StudioProfile.objects.update(public_address="")
    assert "{link}" not in letter_for(quote).body

    send_quote(quote_id=quote.pk, letter=LETTER, by=quote.job.owner, at=NOON)

    message = Message.objects.get(occasion=f"quote:{quote.pk}")
    assert message.link is None
    assert "{link}" not in message.body
    assert message.files.count() == 1


def test_a_quote_may_be_given_by_hand_to_somebody_without_mail() -> None:
    quote = make_quote(make_job(client=make_client(email="")))
    with pytest.raises(QuoteError, match="no e-mail address"):
        send_quote(quote_id=quote.pk, letter=LETTER, by=quote.job.owner, at=NOON)

    sent = send_quote(quote_id=quote.pk, letter=None, by=quote.job.owner, at=NOON)

    assert sent.state == QuoteState.SENT
    assert sent.paper is not None
    assert not Message.objects.exists()


def test_a_quote_that_lacks_something_is_not_sent() -> None:
    quote = make_quote(
        make_job(client=make_client(email="")),
        lines=(PRINT,),
        terms=replace(TERMS, valid_until_on=(NOON - timedelta(days=1)).date()),
    )

    said = missing(quote, on=NOON.date())

    assert [sentence.split()[0] for sentence in said] == ["Add", "Give", "Meyer"]
    with pytest.raises(QuoteError, match="at least one line"):
        send_quote(quote_id=quote.pk, letter=LETTER, by=quote.job.owner, at=NOON)
    assert Quote.objects.get().state == QuoteState.DRAFT


def test_sending_twice_is_sending_once() -> None:
    quote = sent_quote()

    with pytest.raises(QuoteError, match="went out before"):
        send_quote(quote_id=quote.pk, letter=LETTER, by=quote.job.owner, at=NOON)

    assert Message.objects.count() == 1


def test_a_new_version_replaces_the_one_before_and_its_link() -> None:
    first = sent_quote()
    second = new_version(quote_id=first.pk, by=first.job.owner, at=NOON)
    send_quote(quote_id=second.pk, letter=LETTER, by=first.job.owner, at=NOON)

    first.refresh_from_db()
    old = PrivateLink.objects.of(LinkPurpose.QUOTE, first.pk).get()
    new = PrivateLink.objects.of(LinkPurpose.QUOTE, second.pk).get()
    assert first.state == QuoteState.REPLACED
    assert old.replaced
    assert new.revoked_at is None
