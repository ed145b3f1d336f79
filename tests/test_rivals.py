"""What several people at once say when one of them cannot begin."""

from pathlib import Path

import pytest
from django.db import OperationalError, connections

from tests.rivals import race

pytestmark = pytest.mark.django_db


def test_a_connection_that_cannot_be_opened_is_the_reason_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    nowhere = str(tmp_path / "nowhere" / "northsill.sqlite3")
    monkeypatch.setitem(connections.settings["default"], "NAME", nowhere)
    done: list[int] = []

    with pytest.raises(OperationalError):
        race(lambda: done.append(1), lambda: done.append(2))

    assert done == []
