"""Won and lost: each quote once, and sums that are those of the quotes."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.models import Acceptance, Quote
from invoicing.quotes.operations import LineWish, let_quote_lapse, new_version
from invoicing.quotes.outcomes import Outcomes, outcomes
from invoicing.quotes.sending import send_quote
from jobs.jobs.operations import close_as_lost
from studio.money import Money
from tests.make import NOON, make_client, make_job
from tests.make_quotes import SESSION, sent_quote

pytestmark = pytest.mark.django_db
DAY = timedelta(days=1)
SINCE = NOON - 30 * DAY
PORTRAIT = replace(SESSION, description="Portrait", unit_price_minor=30_000)


def told(
    name: str, source: str = "", *, line: LineWish = SESSION, day: int = 0
) -> Quote:
    job = make_job(name, client=make_client(name))
    job.source = source
    job.save()
    return sent_quote(job, lines=(line,), at=NOON + day * DAY, with_session=False)


def five_quotes() -> Outcomes:
    """Two yeses, after 2 and 5 days, a no, a lapse, and one still open."""
    first = told("A", "AGAIN")
    accept_quote(quote_id=first.pk, yes=Yes(name="A"), at=NOON + 2 * DAY)
    second = told("B", "SEEN", line=PORTRAIT, day=1)
    again = new_version(quote_id=second.pk, by=second.job.owner, at=NOON + 2 * DAY)
    send_quote(quote_id=again.pk, letter=None, by=second.job.owner, at=NOON + 2 * DAY)
    accept_quote(quote_id=again.pk, yes=Yes(name="B"), at=NOON + 6 * DAY)
    decline_quote(quote_id=told("C", "AGAIN").pk, no=No(reason="PRICE"), at=NOON)
    let_quote_lapse(quote_id=told("D", "SEEN", day=12).pk, at=NOON + 20 * DAY)
    told("E", line=PORTRAIT, day=12)
    return outcomes(since=SINCE)


def test_offers_are_counted_once_with_their_worth_and_days() -> None:
    # By hand: 420.00 + 300.00 won after 2 and 5 days; 420.00 declined, 420.00 lapsed.
    total = five_quotes().total

    counted = (total.offers, total.won, total.lost, total.lapsed, total.open)
    assert counted == (5, 2, 1, 1, 1)
    assert total.won_value == Money.from_minor(72_000, "GBP")
    assert total.missed_value == Money.from_minor(84_000, "GBP")
    assert (total.days, total.share) == ("3.5", "50%")


def test_every_sorting_adds_up_to_the_quotes_themselves() -> None:
    found = five_quotes()
    agreed = sum(Acceptance.objects.values_list("total_minor", flat=True))
    numbers = Quote.objects.values("number").distinct().count()

    for rows in (found.by_month, found.by_what, found.by_source):
        assert sum(row.offers for row in rows) == found.total.offers == numbers
        assert sum(row.won_value.minor for row in rows) == agreed
        missed = sum(row.missed_value.minor for row in rows)
        assert missed == found.total.missed_value.minor
    assert [row.label for row in found.by_month] == ["July 2026", "June 2026"]
    assert {row.label: row.offers for row in found.by_source} == {
        "Came before": 2,
        "Saw pictures or a sign": 2,
        "Not known": 1,
    }
    assert {row.label: row.won for row in found.by_what} == {
        "Family session": 1,
        "Portrait": 1,
    }
    assert found.reasons == (("The price", 1),)


def test_a_job_closed_as_lost_loses_its_quote_and_an_older_span_is_left_out() -> None:
    quote = told("A")
    close_as_lost(
        job_id=quote.job_id, because="", reason="DATE", by=quote.job.owner, at=NOON
    )

    found = outcomes(since=SINCE)

    assert (found.total.lost, found.total.open) == (1, 0)
    assert found.reasons == (("The date was not free", 1),)
    assert outcomes(since=NOON + DAY).total.offers == 0


def test_more_quotes_cost_no_more_queries() -> None:
    told("A")
    with CaptureQueriesContext(connection) as one:
        outcomes(since=SINCE)
    told("B")
    told("C")
    with CaptureQueriesContext(connection) as three:
        outcomes(since=SINCE)

    assert len(three) == len(one)
