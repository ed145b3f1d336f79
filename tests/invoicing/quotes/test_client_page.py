import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.quotes.models import Acceptance, ClientQuestion, Quote
from invoicing.quotes.operations import new_version, send_quote
from studio.links.models import PrivateLink
from tests.make import NOON
from tests.make_quotes import path_of, sent_quote

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote() -> Quote:
    quote = sent_quote()
    Quote.objects.update(valid_until_on="2999-01-01")
    PrivateLink.objects.update(created_at=NOON, expires_at="2999-01-01T00:00Z")
    return quote


def test_a_client_reads_accepts_and_is_told_what_to_pay(
    client: Browser, quote: Quote
) -> None:
    path = path_of(quote)
    page = client.get(path)
    assert page.status_code == 200
    assert page["Referrer-Policy"] == "no-referrer"
    assert page["Cache-Control"] == "no-store"
    assert "£420.00" in page.content.decode()

    answer = client.post(path, {"name": "Merle Tarn"}, follow=True)

    text = answer.content.decode()
    assert "Pay £100.00 by" in text
    assert "It is not a tax invoice." in text
    assert quote.number in text
    assert Acceptance.objects.get().name == "Merle Tarn"


def test_reading_changes_nothing_however_often(client: Browser, quote: Quote) -> None:
    path = path_of(quote)

    for _ in range(5):
        client.get(path)
        client.head(path)

    assert not Acceptance.objects.exists()


def test_a_yes_without_a_name_is_refused_beside_the_field(
    client: Browser, quote: Quote
) -> None:
    page = client.post(path_of(quote), {"name": ""})

    assert page.status_code == 422
    assert 'id="id_name_error"' in page.content.decode()
    assert not Acceptance.objects.exists()


def test_ticked_extras_move_the_price_and_are_agreed_to(
    client: Browser, quote: Quote
) -> None:
    extra = quote.lines.get(optional=True)
    path = path_of(quote)

    price = client.get(f"{path}price/", {"extra": extra.pk}).content.decode()
    client.post(path, {"name": "Merle Tarn", "extra": extra.pk})

    assert "£515.00" in price
    assert Acceptance.objects.get().total_minor == 51_500


def test_a_replaced_link_says_so_and_shows_the_phone(
    client: Browser, quote: Quote
) -> None:
    old = path_of(quote)
    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=timezone.now())
    send_quote(
        quote_id=second.pk,
        subject="Quote",
        body="{link}",
        by=quote.job.owner,
        at=timezone.now(),
    )

    page = client.get(old)

    assert page.status_code == 410
    assert "newer version" in page.content.decode()
    assert "01632 960001" in page.content.decode()


@pytest.mark.parametrize("token", ["x", "A" * 43, "../../etc"])
def test_an_unknown_link_opens_nothing(
    client: Browser, quote: Quote, token: str
) -> None:
    assert client.get(f"/p/quote/{token}/").status_code == 404


def test_a_question_reaches_the_studio(client: Browser, quote: Quote) -> None:
    page = client.post(f"{path_of(quote)}question/", {"words": "May the dog come?"})

    assert "Thank you, we have it" in page.content.decode()
    assert ClientQuestion.objects.get().words == "May the dog come?"


def test_the_paper_the_calendar_and_the_choice_to_show_are_there(
    client: Browser, quote: Quote
) -> None:
    path = path_of(quote)
    client.post(path, {"name": "Merle Tarn"})

    assert client.get(f"{path}pdf/")["Content-Type"] == "application/pdf"
    assert b"BEGIN:VEVENT" in client.get(f"{path}calendar/").content
    client.post(f"{path}showing/", {"may_show": "yes"})
    quote.job.refresh_from_db()
    assert quote.job.may_show_pictures is True


def test_more_posts_than_a_person_makes_are_turned_away(
    client: Browser, quote: Quote
) -> None:
    path = f"{path_of(quote)}question/"

    answers = [client.post(path, {"words": ""}).status_code for _ in range(32)]

    assert 404 in answers
