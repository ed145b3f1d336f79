from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.asking import ask_question
from invoicing.quotes.models import Quote
from invoicing.quotes.panels import questions_to_answer, quotes_to_do
from invoicing.quotes.states import QuoteState
from invoicing.quotes.tasks import lapse_quotes
from invoicing.search import find_quotes
from jobs.jobs.operations import close_as_lost
from studio.people.models import Person
from tests.make import NOON, make_client, make_job, make_person
from tests.make_quotes import make_quote, open_quote, sent_quote

pytestmark = pytest.mark.django_db


@pytest.fixture
def wren() -> Person:
    return make_person("Wren Owner")


def said(person: Person, days: int = 0) -> list[str]:
    items = quotes_to_do(person, NOON + timedelta(days=days))
    return [f"{item.group}: {item.title}. {item.reason}" for item in items]


def test_today_gives_the_drafts_to_send_and_whose_they_are(wren: Person) -> None:
    make_quote(make_job("Session", by=make_person("Sol Planner", hats="planner")))

    (line,) = said(wren)

    assert line.startswith("today: Send the quote to Meyer Bakery.")
    assert "£420.00" in line
    assert "drafted by Sol Planner: it needs your eye" in line


def test_today_gives_quotes_that_wait_long_or_lapse_soon(wren: Person) -> None:
    sent_quote()

    assert said(wren, days=4) == []
    assert "sent 6 days ago" in said(wren, days=6)[0]
    assert said(wren, days=14)[0].startswith("today: Ask Meyer Bakery")


def test_today_gives_what_lapsed_until_it_is_renewed_or_closed(wren: Person) -> None:
    quote = sent_quote()
    Quote.objects.update(state=QuoteState.LAPSED)
    assert "lapsed" in said(wren, days=20)[0]

    close_as_lost(job_id=quote.job_id, because="Too far", by=wren, at=NOON)
    assert said(wren, days=20) == []


def test_today_gives_questions_to_answer(wren: Person) -> None:
    quote = open_quote()
    ask_question(quote_id=quote.pk, words="May\nthe dog come?", at=timezone.now())

    (item,) = questions_to_answer(wren, timezone.now())

    assert item.title == f"Answer Meyer Bakery about {quote.number}"
    assert item.reason == "“May the dog come?”"


def test_sent_quotes_lapse_when_their_day_has_passed() -> None:
    lapsing = sent_quote()
    still_open = open_quote(make_job(client=make_client("Other")))

    lapse_quotes()
    lapse_quotes()

    lapsing.refresh_from_db()
    still_open.refresh_from_db()
    assert lapsing.state == QuoteState.LAPSED
    assert still_open.state == QuoteState.SENT


def test_the_jobs_page_shows_versions_and_the_yes(
    client: Browser, wren: Person
) -> None:
    quote = open_quote()
    client.force_login(wren)
    page = client.get(quote.job.get_absolute_url()).content.decode()
    assert f"{quote.number}, version 1" in page
    assert "£420.00" in page

    accept_quote(quote_id=quote.pk, yes=Yes(name="Merle Tarn"), at=timezone.now())

    page = client.get(quote.job.get_absolute_url()).content.decode()
    assert "from Merle Tarn, on the private page" in page


def test_a_quote_is_found_by_its_number() -> None:
    quote = make_quote()

    (found,) = find_quotes(quote.number[-3:])

    assert found.title == f"{quote.number}, version 1"
    assert found.url == quote.get_absolute_url()
