"""What the tests of this folder start from."""

import pytest
from django.core.cache import cache

from invoicing.quotes.models import Quote
from tests.make_quotes import open_quote


@pytest.fixture
def forget_visitors(db: None) -> None:
    """Let nobody have posted yet: visits are counted in the cache."""
    cache.clear()


@pytest.fixture
def quote() -> Quote:
    return open_quote()
