from dataclasses import replace

import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.quotes.operations import new_version
from invoicing.quotes.sending import letter_for, send_quote
from jobs.clients.models import ClientKind
from tests.invoicing.quotes.client_answers import say_yes
from tests.make import make_client, make_job
from tests.make import make_profile as set_up
from tests.make_quotes import SESSION, open_quote, path_of

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]


def test_outside_tax_there_are_no_tax_words(client: Browser) -> None:
    quote = open_quote(lines=(replace(SESSION, tax_rate_basis_points=0),))
    set_up(tax_registered=False)
    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=timezone.now())
    letter = letter_for(second)
    sent = send_quote(
        quote_id=second.pk, letter=letter, by=quote.job.owner, at=timezone.now()
    )

    page = client.get(path_of(sent)).content.decode()
    text = say_yes(client, sent)

    assert "VAT" not in page
    assert "VAT" not in text


def test_an_organisation_reads_its_prices_before_tax(client: Browser) -> None:
    firm = make_client("Saltpan Brass", kind=ClientKind.ORGANISATION)
    set_up(withdrawal_words="You may withdraw within 14 days.")
    quote = open_quote(make_job(client=firm))

    page = client.get(path_of(quote)).content.decode()

    assert "Before VAT" in page
    assert "VAT at 20%" in page
    assert "£504.00" in page
    assert "withdraw" not in page


def test_consumers_read_the_studios_words_on_withdrawal(client: Browser) -> None:
    quote = open_quote()
    set_up(withdrawal_words="You may withdraw within 14 days.")
    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=timezone.now())
    sent = send_quote(
        quote_id=second.pk,
        letter=letter_for(second),
        by=quote.job.owner,
        at=timezone.now(),
    )

    assert (
        "You may withdraw within 14 days." in client.get(path_of(sent)).content.decode()
    )


def test_hostile_words_stay_words(client: Browser) -> None:
    name = '<img src="file:///etc/passwd"/> & Söhne'
    quote = open_quote(make_job(name, client=make_client(name)))

    page = client.get(path_of(quote)).content.decode()
    text = say_yes(client, quote, name='"><script>alert(1)</script> Анна')

    assert "<img src=" not in page
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text
