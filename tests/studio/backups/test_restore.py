"""A copy made on one machine stands on another, row for row."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.machine import Machine, new_machine

WORK = """
from datetime import timedelta
from django.db import transaction
from tests.make import NOON, make_booking, make_item, make_person, make_profile
from studio.files.operations import store_file
profile = make_profile()
for number in range(3):
    make_booking(
        people=(make_person(),), items=(make_item(),),
        starts_at=NOON + timedelta(days=number, microseconds=123457),
    )
    store_file(name="a.pdf", content_type="application/pdf",
               content=bytes(range(256)) * 40, at=NOON)
"""


@pytest.fixture
def studio(tmp_path: Path) -> Iterator[Machine]:
    with new_machine(tmp_path / "one") as machine:
        assert machine.manage("migrate", "-v", "0").returncode == 0
        machine.python(WORK)
        yield machine


def test_a_copy_comes_back_on_an_empty_machine_row_for_row(
    studio: Machine, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.zip"
    before = studio.rows()
    made = studio.manage("backup", str(copy))
    assert made.returncode == 0, made.stderr
    assert "not encrypted" in made.stdout

    with new_machine(tmp_path / "two") as other:
        done = other.manage("restore", str(copy))
        assert done.returncode == 0, done.stderr
        after = other.rows()

    # Making a copy writes a journal entry and the profile's date after it.
    changed = {table for table in before if before[table] != after[table]}
    assert changed == set()


def test_a_used_database_is_replaced_only_if_asked_and_is_copied_first(
    studio: Machine, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.zip"
    studio.manage("backup", str(copy))
    studio.python("from tests.make import make_job; make_job('Later work')")
    before = studio.rows()

    refused = studio.manage("restore", str(copy))
    assert refused.returncode == 1
    assert "--replace" in refused.stderr
    assert studio.rows() == before

    done = studio.manage("restore", str(copy), "--replace")
    assert done.returncode == 0, done.stderr
    count = "from jobs.models import Job; print(Job.objects.filter(title='Later work').count())"
    assert studio.python(count).strip() == "0"

    found = re.search(r"in (\S+before-restore\S+\.zip)\.", done.stdout)
    assert found is not None
    again = studio.manage("restore", found[1], "--replace")
    assert again.returncode == 0, again.stderr
    assert studio.python(count).strip() == "1"


def test_a_damaged_copy_leaves_everything_as_it_was(
    studio: Machine, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.zip"
    studio.manage("backup", str(copy))
    before = studio.rows()
    whole = copy.read_bytes()
    copy.write_bytes(whole[: len(whole) // 2])

    done = studio.manage("restore", str(copy), "--replace")

    assert done.returncode == 1
    assert "cut short" in done.stderr
    assert "Traceback" not in done.stderr
    assert studio.rows() == before


def test_the_guards_stand_after_a_restore(studio: Machine, tmp_path: Path) -> None:
    copy = tmp_path / "copy.zip"
    studio.manage("backup", str(copy))
    with new_machine(tmp_path / "two") as other:
        other.manage("restore", str(copy))
        said = other.python(
            "from django.db import DatabaseError\n"
            "from studio.history.models import JournalEntry\n"
            "try:\n    JournalEntry.objects.update(verb='x')\n"
            "except DatabaseError as fault:\n    print(fault)\n"
        )

    assert "only added to" in said
