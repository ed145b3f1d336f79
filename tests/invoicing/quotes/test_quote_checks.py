import pytest

from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.models import Acceptance, Quote
from tests.make import NOON
from tests.make_quotes import sent_quote
from tests.unguarded import unguarded
from tests.world import assert_world, faults

pytestmark = pytest.mark.django_db


def test_a_quote_and_its_yes_leave_the_records_in_order() -> None:
    quote = sent_quote()
    extra = quote.lines.get(optional=True)
    yes = Yes(name="Merle Tarn", chosen=frozenset({extra.pk}))
    accept_quote(quote_id=quote.pk, yes=yes, at=NOON)

    assert_world()


def test_a_changed_quote_and_a_changed_yes_are_found() -> None:
    quote = sent_quote()
    accept_quote(quote_id=quote.pk, yes=Yes(name="Merle Tarn"), at=NOON)

    with unguarded("invoicing_quote"):
        Quote.objects.update(snapshot={**(quote.snapshot or {}), "terms": "Others."})
    with unguarded("invoicing_acceptance"):
        Acceptance.objects.update(total_minor=1, snapshot_hash="x")

    found = faults()
    assert len(found["quotes as they were sent"]) == 1
    assert len(found["the yes to each quote"]) == 2


def test_an_accepted_quote_without_a_yes_is_found() -> None:
    sent_quote()
    Quote.objects.update(state="ACCEPTED")

    assert "nobody said yes" in faults()["the yes to each quote"][0]
