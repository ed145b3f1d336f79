from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.models import Acceptance, Quote
from invoicing.quotes.operations import new_version
from invoicing.quotes.sending import letter_for, send_quote
from studio.links.models import PrivateLink
from tests.make_quotes import TERMS, path_of, sent_quote

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]


def test_a_lapsed_price_says_so_with_the_phone(client: Browser) -> None:
    now = timezone.now()
    terms = replace(TERMS, valid_until_on=(now - timedelta(days=9)).date())
    quote = sent_quote(terms=terms, at=now - timedelta(days=12))

    page = client.get(path_of(quote)).content.decode()
    posted = client.post(path_of(quote), {"name": "Merle Tarn", "agreed": "42000"})

    assert "cannot be accepted here any more" in page
    assert "01632 960001" in page
    assert "Accept and agree" not in page
    assert posted.status_code == 409
    assert not Acceptance.objects.exists()


def test_a_declined_quote_is_not_open(client: Browser, quote: Quote) -> None:
    decline_quote(quote_id=quote.pk, no=No(), by=quote.job.owner, at=timezone.now())

    assert "not open any more" in client.get(path_of(quote)).content.decode()
    posted = client.post(path_of(quote), {"name": "Merle Tarn", "agreed": "42000"})
    assert posted.status_code == 409


def test_a_replaced_link_says_so_and_shows_the_phone_and_nothing_else(
    client: Browser, quote: Quote
) -> None:
    old, now = path_of(quote), timezone.now()
    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=now)
    letter = letter_for(second)
    send_quote(quote_id=second.pk, letter=letter, by=quote.job.owner, at=now)

    for part in ("", "pdf/", "terms/", "price/"):
        page = client.get(f"{old}{part}")
        text = page.content.decode()
        assert page.status_code == 410
        assert "newer version" in text
        assert "01632 960001" in text
        assert "£420.00" not in text
    assert (
        client.post(old, {"name": "Merle Tarn", "agreed": "42000"}).status_code == 410
    )
    assert client.get(path_of(second)).status_code == 200


def test_every_link_that_opens_nothing_looks_the_same(
    client: Browser, quote: Quote
) -> None:
    path = path_of(quote)
    PrivateLink.objects.update(expires_at=timezone.now())
    expired = client.get(path)
    PrivateLink.objects.update(
        expires_at=timezone.now() + timedelta(days=9), revoked_at=timezone.now()
    )
    revoked = client.get(path)
    unknown = client.get("/p/quote/" + "A" * 43 + "/")

    assert [expired.status_code, revoked.status_code, unknown.status_code] == [404] * 3
    assert expired.content == revoked.content == unknown.content


@pytest.mark.parametrize("token", ["x", "..%2Fetc", "%00", "😀", "a" * 5_000])
def test_odd_tokens_open_nothing(client: Browser, quote: Quote, token: str) -> None:
    assert client.get(f"/p/quote/{token}/").status_code == 404
