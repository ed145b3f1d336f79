import socket
import time
from collections.abc import Iterator
from typing import Any

import pytest
from django.db import DatabaseError
from django.test import Client as Browser

from studio.health import views
from studio.mail.models import Message
from studio.mail.states import MessageState
from tests.make_mail import make_message

pytestmark = pytest.mark.django_db


@pytest.fixture
def silent_port() -> Iterator[int]:
    """Lend a port that takes connections and never says a word."""
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        yield listening.getsockname()[1]


def test_a_studio_that_is_well_says_so_to_anybody(client: Browser) -> None:
    make_message()
    Message.objects.filter(pk=make_message().pk).update(state=MessageState.UNKNOWN)

    answer = client.get("/healthz/")

    assert answer.status_code == 200
    assert answer.json()["database"] == "up"
    assert answer.json()["outbox"] == {"waiting": 1, "in_trouble": 1}


def test_without_redis_the_work_is_our_own(client: Browser, settings: Any) -> None:
    settings.REDIS_URL = ""

    assert client.get("/healthz/").json()["broker"] == "own"


@pytest.mark.parametrize("listens", [True, False])
def test_a_broker_that_is_silent_or_gone_holds_no_page_up(
    listens: bool, silent_port: int, client: Browser, settings: Any
) -> None:
    settings.REDIS_URL = f"redis://127.0.0.1:{silent_port if listens else 1}/0"
    began_s = time.monotonic()

    answer = client.get("/healthz/")

    assert (answer.status_code, answer.json()["broker"]) == (200, "down")
    assert time.monotonic() - began_s < 3


def test_a_database_that_is_down_is_told(
    client: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Down:
        def cursor(self) -> None:
            raise DatabaseError("gone")

    monkeypatch.setattr(views, "connection", Down())

    answer = client.get("/healthz/")

    assert answer.status_code == 503
    assert answer.json()["outbox"] is None
