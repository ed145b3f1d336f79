"""What several people at once say when one of them cannot begin."""

import pytest
from django.db import OperationalError, connections

from tests.rivals import race

pytestmark = pytest.mark.django_db


def test_a_connection_that_cannot_be_opened_is_the_reason_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    default = connections.settings["default"]
    monkeypatch.setitem(default, "NAME", "nowhere/northsill.sqlite3")
    done: list[int] = []

    with pytest.raises(OperationalError):
        race(lambda: done.append(1), lambda: done.append(2))

    assert done == []
