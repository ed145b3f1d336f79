"""Clients as lists show them: each with the jobs that are open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from django.core.paginator import Page, Paginator
from django.db.models import Prefetch

from jobs.clients.models import Client
from jobs.jobs.models import Job

ROWS: Final = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenJob:
    """An open job as a client's line shows it."""

    url: str
    title: str
    stage: str
    stage_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientRow:
    """A client as a line of a list."""

    url: str
    name: str
    contact: str
    phone: str
    email: str
    open_jobs: tuple[OpenJob, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientList:
    """A page of the list of clients."""

    rows: tuple[ClientRow, ...]
    page: Page[Client]


def list_clients(words: str, *, page: str) -> ClientList:
    """Return a page of the clients that the words find. Three queries."""
    jobs = Prefetch("jobs", queryset=Job.objects.open(), to_attr="open_ones")
    found = Client.objects.matching(words).order_by("name", "pk")
    shown = Paginator(found.prefetch_related(jobs), ROWS).get_page(page)
    return ClientList(rows=tuple(_row(client) for client in shown), page=shown)


def _row(client: Client) -> ClientRow:
    jobs: list[Job] = client.__dict__["open_ones"]
    return ClientRow(
        url=client.get_absolute_url(),
        name=client.name,
        contact=client.contact_name,
        phone=client.phone,
        email=client.email,
        open_jobs=tuple(
            OpenJob(
                url=job.get_absolute_url(),
                title=job.title,
                stage=job.stage,
                stage_words=job.get_stage_display(),
            )
            for job in jobs
        ),
    )
