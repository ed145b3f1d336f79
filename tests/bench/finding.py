"""A large book to search in, and what people look for."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from django.db import connection

from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Purpose, Series
from invoicing.quotes.models import Quote
from jobs.clients.models import Client
from jobs.jobs.models import Job
from studio.finding.mending import mend_words
from studio.people.models import Person
from studio.search import find
from tests.bench.pairwise import Work
from tests.make import NOON, make_person, make_profile

FIRST: Final = ("Ada", "Bram", "Zoë", "Idris", "Wenna", "Osbert", "Maud", "Piers")
LAST: Final = ("Thorn", "Sallow", "Linnet", "Fettle", "Garrick", "Orrell", "Weld")
WHAT: Final = ("Family by the river", "Staff portraits", "Newborn", "Choir", "Jacket")
BATCH: Final = 2_000
SOUGHT: Final = {
    "a job's number": "J-2026-54321",
    "an invoice's number": "2026-12345",
    "a common word": "portraits",
    "a name": "Zoë Fettle",
    "a rare name": "Quillon",
    "two words": "river Orrell",
    "a phone number": "01632 960777",
    "what nobody has": "xyzzy",
}


def fill(*, jobs: int) -> Person:
    """Write so many jobs with clients, quotes and invoices; return the owner."""
    make_profile()
    owner = make_person()
    clients = [_client(number) for number in range(2 * jobs // 5)]
    Client.objects.bulk_create(clients, batch_size=BATCH)
    written = [_job(number, clients, owner) for number in range(jobs)]
    Job.objects.bulk_create(written, batch_size=BATCH)
    some = written[: 3 * jobs // 5]
    quotes = [_quote(number, job) for number, job in enumerate(some)]
    Quote.objects.bulk_create(quotes, batch_size=BATCH)
    papers = [_paper(number, job) for number, job in enumerate(some, start=1)]
    Invoice.objects.bulk_create(papers, batch_size=BATCH)
    mend_words()
    analyse()
    return owner


def searches(owner: Person) -> dict[str, Work]:
    """Return a search for each kind of words, as the page does it."""
    return {
        name: lambda words=words: find(words, person=owner)  # type: ignore[misc]
        for name, words in SOUGHT.items()
    }


def one_pass() -> None:
    """Look once through every title for what none has."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT COUNT(*) FROM jobs_job WHERE title LIKE '%xyzzy%'")
        cursor.fetchone()


def analyse() -> None:
    """Let the database count its rows, as its own upkeep does."""
    with connection.cursor() as cursor:
        cursor.execute("VACUUM ANALYZE" if connection.vendor != "sqlite" else "ANALYZE")


def _client(number: int) -> Client:
    name = f"{FIRST[number % 8]} {LAST[number % 7]} {number}"
    client = Client(
        name="Quillon and Sons" if number == 12_345 else name,
        email=f"person{number}@home.example",
        phone=f"+441632{number % 1_000_000:06}",
        created_at=NOON,
    )
    client.set_keys()
    return client


def _job(number: int, clients: list[Client], owner: Person) -> Job:
    return Job(
        number=f"J-2026-{number:05}",
        client=clients[number % len(clients)],
        title=f"{WHAT[number % 5]} {number % 97}",
        owner=owner,
        enquired_at=NOON - timedelta(minutes=number),
        reply_by_on=NOON.date(),
    )


def _quote(number: int, job: Job) -> Quote:
    return Quote(
        job=job,
        number=f"Q-2026-{number:05}",
        drafted_by=job.owner,
        drafted_at=NOON,
        currency="GBP",
        price_basis="gross",
        valid_until_on=NOON.date(),
    )


def _paper(number: int, job: Job) -> Invoice:
    return Invoice(
        series=Series.INVOICE,
        purpose=Purpose.BALANCE,
        number=f"2026-{number:05}",
        year=2026,
        place=number,
        job=job,
        client=job.client,
        issued_on=NOON.date(),
        due_on=NOON.date(),
        tax_point_on=NOON.date(),
        currency="GBP",
        net_minor=10_000,
        tax_minor=2_000,
        gross_minor=12_000,
        snapshot={},
        snapshot_hash="0" * 64,
        chain_sequence=number,
        previous_hash="0" * 64,
        hash="0" * 64,
        issued_at=NOON,
    )
