"""Issuing invoices from many threads, with numbers of the series or of a sequence."""

import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import date
from itertools import count
from statistics import median
from threading import Barrier
from typing import Final
from unittest.mock import patch

from django.db import connection, transaction

from invoicing.invoices.checks import broken_papers, gaps, wrong_sums
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.operations import draft_balance_invoice
from jobs.jobs.models import Job
from studio.series.models import SeriesKind
from studio.series.operations import Number
from tests.make import NOON
from tests.make_invoicing import make_order

ONE_IN: Final = 20
PATIENCE_S: Final = 60.0
_places = count(1)


def make_drafts(how_many: int) -> list[int]:
    """Return the keys of new drafts, each of a job of its own."""
    keys = []
    for _ in range(how_many):
        order = make_order()
        by = Job.objects.get(pk=order.job_id).owner
        keys.append(draft_balance_invoice(order=order, by=by, at=NOON).pk)
    return keys


def issue_at_once(keys: list[int], *, threads: int) -> float:
    """Issue drafts from many threads; return the seconds that it took.

    The first attempt at every twentieth draft is rolled back and made again.
    """
    start = Barrier(threads + 1)

    def run(mine: list[int]) -> None:
        connection.ensure_connection()
        start.wait(timeout=PATIENCE_S)
        try:
            for key in mine:
                issue(key)
        finally:
            connection.close()

    with ThreadPoolExecutor(threads) as pool:
        done = [pool.submit(run, keys[place::threads]) for place in range(threads)]
        start.wait(timeout=PATIENCE_S)
        begun = time.perf_counter()
        for one in done:
            one.result()
        return time.perf_counter() - begun


def issue(key: int) -> None:
    """Issue one draft, some only at the second attempt."""
    if key % ONE_IN == 0:
        with transaction.atomic():
            issue_invoice(draft_id=key, by=None, at=NOON)
            transaction.set_rollback(True)
    issue_invoice(draft_id=key, by=None, at=NOON)


def faults() -> list[str]:
    """Return what is wrong with the papers issued so far, as `verify` tells it."""
    return [*gaps(), *broken_papers(), *wrong_sums()]


@contextmanager
def numbers_of_a_sequence() -> Iterator[None]:
    """Let numbers come from where nobody waits, and where failures leave gaps."""

    def take(kind: SeriesKind, *, on: date) -> Number:
        place = next(_places)
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT nextval('bench_numbers')")
                place = int(cursor.fetchone()[0])
        return Number(f"{kind}/{place}", 1900, place)

    with patch("invoicing.invoices.issuing.take_number", take):
        yield


def compare(*, threads: int, rounds: int, each: int) -> tuple[float, float]:
    """Return the pace beside that with a sequence, and papers a second; medians."""
    ratios, paces = [], []
    for number in range(rounds):
        gapless = 0.0
        if number % 2:
            gapless = issue_at_once(make_drafts(each), threads=threads)
        with numbers_of_a_sequence():
            with_gaps = issue_at_once(make_drafts(each), threads=threads)
        gapless = gapless or issue_at_once(make_drafts(each), threads=threads)
        ratios.append(with_gaps / gapless)
        paces.append(each / gapless)
    return median(ratios), median(paces)
