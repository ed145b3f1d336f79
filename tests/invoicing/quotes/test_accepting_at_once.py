"""Rivals for one quote and for one time, on a database file of their own."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.machine import new_machine

pytestmark = pytest.mark.usefixtures("django_db_setup")

RACE = """
import json, threading
from django.db import connection
from django.utils import timezone
from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.models import Acceptance, Quote
from jobs.bookings.holding import ClashError
from jobs.bookings.models import Booking
from studio.mail.models import Message
from tests.make import make_booking, make_client, make_item, make_job
from tests.make_quotes import open_quote

THREADS = 8

def race(accepts):
    said, gate = [], threading.Barrier(len(accepts))
    def run(number, accept):
        gate.wait()
        try:
            accept(number)
            said.append("accepted")
        except Exception as refusal:
            said.append(type(refusal).__name__)
        finally:
            connection.close()
    threads = [
        threading.Thread(target=run, args=pair) for pair in enumerate(accepts)
    ]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    return sorted(said)

def accept(quote):
    return lambda number: accept_quote(
        quote_id=quote.pk, yes=Yes(name=f"Person {number}"), at=timezone.now()
    )
"""

ONE_QUOTE = (
    RACE
    + """
rounds = []
for number in range(6):
    quote = open_quote(make_job(client=make_client(f"Client {number}")))
    said = race([accept(quote)] * THREADS)
    quote.refresh_from_db()
    rounds.append(
        [
            said,
            Acceptance.objects.filter(quote=quote).count(),
            quote.state,
            Message.objects.filter(occasion__startswith="accepted:").count(),
        ]
    )
print(json.dumps(rounds))
"""
)

ONE_TRIPOD = (
    RACE
    + """
from datetime import timedelta
rounds = []
for number in range(4):
    tripod = make_item(f"Tripod {number}")
    quotes = []
    for name in "ABCD":
        job = make_job(client=make_client(f"{name}{number}"))
        start = timezone.now() + timedelta(days=20 + number)
        make_booking(job=job, items=(tripod,), starts_at=start)
        quotes.append(open_quote(job))
    said = race([accept(quote) for quote in quotes])
    held = Booking.objects.holding().filter(job__quotes__in=quotes).count()
    taken = Acceptance.objects.filter(quote__in=quotes).count()
    rounds.append([said, held, taken])
print(json.dumps(rounds))
"""
)


YES_AND_NEW_VERSION = (
    RACE
    + """
from invoicing.quotes.operations import let_quote_lapse, new_version
from invoicing.quotes.sending import letter_for, send_quote
rounds = []
for number in range(8):
    quote = open_quote(make_job(client=make_client(f"Client {number}")))
    by, at = quote.job.owner, timezone.now()
    def resend(_):
        version = new_version(quote_id=quote.pk, by=by, at=at)
        letter = letter_for(version)
        send_quote(quote_id=version.pk, letter=letter, by=by, at=at)
    def lapse(_):
        let_quote_lapse(quote_id=quote.pk, at=at)
    said = race([accept(quote), resend, accept(quote), lapse, resend])
    versions = Quote.objects.filter(number=quote.number)
    out = versions.filter(state__in=["SENT", "ACCEPTED"]).count()
    taken = Acceptance.objects.filter(quote__in=versions).count()
    rounds.append([said, out, taken])
print(json.dumps(rounds))
"""
)
REFUSALS = {
    "AlreadyAcceptedError",
    "NotOpenError",
    "QuoteError",
    "QuoteMoveError",
    "StaleQuoteError",
}


def _rounds(folder: Path, code: str) -> list[Any]:
    with new_machine(folder, migrated=True) as machine:
        rounds: list[Any] = json.loads(machine.python(code))
        return rounds


def test_of_many_who_accept_one_quote_at_once_exactly_one_does(
    tmp_path: Path,
) -> None:
    for number, (said, rows, state, letters) in enumerate(
        _rounds(tmp_path, ONE_QUOTE), start=1
    ):
        assert said == ["AlreadyAcceptedError"] * 7 + ["accepted"]
        assert (rows, state, letters) == (1, "ACCEPTED", number)


def test_of_many_quotes_for_one_tripod_at_one_time_exactly_one_is_accepted(
    tmp_path: Path,
) -> None:
    for said, held, taken in _rounds(tmp_path, ONE_TRIPOD):
        assert said == ["ClashError"] * 3 + ["accepted"]
        assert (held, taken) == (1, 1)


def test_a_yes_a_new_version_and_a_lapse_at_once_end_in_one_state(
    tmp_path: Path,
) -> None:
    for said, out, taken in _rounds(tmp_path, YES_AND_NEW_VERSION):
        assert set(said) <= REFUSALS | {"accepted"}
        assert out <= 1
        assert taken <= 1
