from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.quotes.models import Acceptance
from tests.make_quotes import TERMS, path_of, sent_quote

pytestmark = pytest.mark.django_db


def test_reading_changes_nothing_however_often(client: Browser) -> None:
    ahead = (timezone.now() + timedelta(days=30)).date()
    terms = replace(TERMS, valid_until_on=ahead)
    path = path_of(sent_quote(at=timezone.now(), terms=terms))

    for _ in range(3):
        page = client.get(path)
        client.head(path)

    assert page.status_code == 200
    assert page["Referrer-Policy"] == "no-referrer"
    assert "£420.00" in page.content.decode()
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize("token", ["x", "A" * 43])
def test_an_unknown_link_opens_nothing(client: Browser, token: str) -> None:
    assert client.get(f"/p/quote/{token}/").status_code == 404
