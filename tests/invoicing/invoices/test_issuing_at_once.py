"""Many who issue at once: no number is missing, and none is given twice."""

import json
from pathlib import Path

import pytest
from django.db import connection

from tests.machine import new_machine

pytestmark = pytest.mark.usefixtures("django_db_setup")

ISSUE = """
import json
from invoicing.invoices.models import Invoice
from tests.bench.issuing import faults, issue_at_once, make_drafts

keys = make_drafts(4 * THREADS)
issue_at_once(keys, threads=THREADS)
places = list(Invoice.objects.order_by("place").values_list("place", flat=True))
again = sum(key % 20 == 0 for key in keys)
print(json.dumps([places, faults(), again]))
"""


def test_papers_issued_at_once_are_numbered_without_a_gap(tmp_path: Path) -> None:
    threads = 32 if connection.vendor == "postgresql" else 8

    with new_machine(tmp_path, migrated=True) as machine:
        said = machine.python(f"THREADS = {threads}\n{ISSUE}")

    places, faults, taken_back = json.loads(said)
    assert places == list(range(1, 4 * threads + 1))
    assert faults == []
    assert taken_back >= 1
