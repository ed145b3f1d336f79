"""The clock of these tests."""

import pytest

from tests.make import NOON


@pytest.fixture
def noon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let it be noon of 21 June 2026."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
