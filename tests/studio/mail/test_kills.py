"""Killed at the worst moments: nothing is lost, nothing is sent twice unasked."""

import json
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from email import message_from_bytes
from pathlib import Path

import pytest

from tests.machine import ROOT, Machine, new_machine
from tests.studio.mail.bad_server import Sink, mail_server

WRITE = """
from django.utils import timezone
from tests.make import make_profile
from tests.make_mail import make_message
make_profile()
for number in range({count}):
    make_message(at=timezone.now(), subject=f"Letter {{number}}")
"""
SEND = "from studio.mail.tasks import send_waiting_mail; send_waiting_mail()\n"
# An hour later every claim of a dead process has lapsed.
SEND_LATER = """
from datetime import timedelta
from django.utils import timezone
from studio.mail.delivery import PostOffice, deliver, release_lapsed
from studio.mail.models import Message
at = timezone.now() + timedelta(hours=1)
release_lapsed(at=at)
with PostOffice() as office:
    for message in Message.objects.waiting(at=at):
        deliver(message_id=message.pk, office=office, at=at)
"""
STATES = """
import json
from studio.mail.models import Message
print(json.dumps(dict(Message.objects.values_list("message_id", "state"))))
"""
AGAIN = """
from django.utils import timezone
from studio.mail.models import Message
from studio.mail.operations import send_again
for message in Message.objects.filter(state="UNKNOWN"):
    send_again(message_id=message.pk, at=timezone.now())
"""
WORLD = "from tests.world import assert_world; assert_world()\n"


@pytest.fixture
def sink() -> Iterator[Sink]:
    with mail_server() as server:
        yield server


@pytest.fixture
def machine(django_db_setup: None, tmp_path: Path, sink: Sink) -> Iterator[Machine]:
    speaking = {
        "DJANGO_SETTINGS_MODULE": "studio.settings",
        "SMTP_HOST": "127.0.0.1",
        "SMTP_PORT": str(sink.port),
        "SMTP_STARTTLS": "no",
    }
    with new_machine(tmp_path / "var", migrated=True, **speaking) as machine:
        yield machine


def states(machine: Machine) -> dict[str, str]:
    read: dict[str, str] = json.loads(machine.python(STATES))
    return read


def copies(sink: Sink) -> Counter[str]:
    return Counter(message_from_bytes(one)["Message-ID"] for one in sink.taken)


def test_a_kill_before_and_after_the_server_has_the_letter(
    machine: Machine, sink: Sink
) -> None:
    machine.python(WRITE.format(count=1))
    machine.crash(SEND, at="message_claimed")
    assert sink.taken == []
    machine.python(SEND_LATER)
    assert set(states(machine).values()) == {"SENT"}

    machine.python(WRITE.format(count=1))
    machine.crash(SEND, at="smtp_accepted")
    machine.python(SEND_LATER)
    machine.python(SEND)
    assert sorted(states(machine).values()) == ["SENT", "UNKNOWN"]
    assert list(copies(sink).values()) == [1, 1]

    machine.python(AGAIN + SEND)
    assert set(states(machine).values()) == {"SENT"}
    assert sorted(copies(sink).values()) == [1, 2]
    assert len(set(sink.taken)) == 2
    machine.python(WORLD)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(5))
def test_a_worker_killed_again_and_again_loses_nothing(
    machine: Machine, sink: Sink, seed: int
) -> None:
    dice, kills = random.Random(seed), 8  # noqa: S311 - no secret
    machine.python(WRITE.format(count=200))
    for _ in range(kills):
        worker = subprocess.Popen(
            [sys.executable, "manage.py", "work"], cwd=ROOT, env=machine.environment
        )
        time.sleep(dice.uniform(1.5, 3.0))
        worker.send_signal(signal.SIGKILL)
        worker.wait()
    machine.python(SEND_LATER)

    ended, taken = states(machine), copies(sink)
    doubtful = [name for name, state in ended.items() if state == "UNKNOWN"]
    assert set(ended.values()) <= {"SENT", "UNKNOWN"}
    assert len(doubtful) <= kills
    assert set(ended) - set(taken) <= set(doubtful)
    assert set(taken.values()) == {1}
    machine.python(WORLD)
