"""What a client sends from the private page."""

from django.test import Client as Browser

from invoicing.quotes.models import Quote
from tests.make_quotes import path_of


def say_yes(client: Browser, quote: Quote, **fields: object) -> str:
    posted = {"name": "Merle Tarn", "agreed": "42000"} | fields
    return client.post(path_of(quote), posted, follow=True).content.decode()
