"""The clock of these tests, and a database that two may write to at once."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connection
from pytest_django.plugin import DjangoDbBlocker

from tests.make import NOON
from tests.rivals import set_guards


@pytest.fixture
def noon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let it be noon of 21 June 2026."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)


@pytest.fixture
def guards_again(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker
) -> Iterator[None]:
    """Put the guards back, last of all."""
    yield
    if connection.vendor == "sqlite":
        with django_db_blocker.unblock():
            set_guards(on=True)


@pytest.fixture
def ring(guards_again: None, transactional_db: None, tmp_path: Path) -> Iterator[Path]:
    """Give a folder for `in_a_file`; the tables can be emptied afterwards."""
    yield tmp_path
    if connection.vendor == "sqlite":
        set_guards(on=False)
