"""A copy made on one machine stands on another, row for row."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from studio.backups.archive import check_archive
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


GUARD = """
from django.db import DatabaseError
from studio.history.models import JournalEntry
try:
    JournalEntry.objects.update(verb="x")
except DatabaseError as fault:
    print(fault)
"""
LATER = """
from jobs.models import Client, Job
Client.objects.create(name="Later client", created_at=Job.objects.first().enquired_at)
"""
COUNT = """
from jobs.models import Client
print(Client.objects.filter(name="Later client").count())
"""

BACK_UP = """
from datetime import UTC, datetime
from pathlib import Path
from studio.backups.operations import back_up_to
back_up_to(Path({path!r}), at=datetime.now(UTC))
"""


@pytest.fixture(scope="module")
def studio(
    django_db_setup: None, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Machine]:
    with new_machine(tmp_path_factory.mktemp("one"), migrated=True) as machine:
        machine.python(WORK)
        yield machine


def test_a_copy_comes_back_on_an_empty_machine_row_for_row(
    studio: Machine, tmp_path: Path
) -> None:
    copy, before = tmp_path / "copy.zip", studio.rows()
    made = studio.manage("backup", str(copy))
    assert made.returncode == 0, made.stderr
    assert "not encrypted" in made.stdout

    with new_machine(tmp_path / "two", migrated=False) as other:
        done = other.manage("restore", str(copy))
        assert done.returncode == 0, done.stderr
        after = other.rows()
        said = other.python(GUARD)

    assert {table for table in before if before[table] != after[table]} == set()
    assert "only added to" in said


def test_work_is_replaced_only_if_asked_by_a_whole_copy_and_is_copied_first(
    studio: Machine, tmp_path: Path
) -> None:
    copy, cut = tmp_path / "copy.zip", tmp_path / "cut.zip"
    studio.manage("backup", str(copy))
    cut.write_bytes(copy.read_bytes()[:-4000])
    studio.python(LATER)

    refused = studio.manage("restore", str(copy))
    assert (refused.returncode, "--replace" in refused.stderr) == (1, True)
    broken = studio.manage("restore", str(cut), "--replace")
    assert (broken.returncode, "cut short" in broken.stderr) == (1, True)
    assert "Traceback" not in broken.stderr
    assert studio.python(COUNT).strip() == "1"

    done = studio.manage("restore", str(copy), "--replace")
    assert done.returncode == 0, done.stderr
    assert studio.python(COUNT).strip() == "0"

    found = re.search(r"in (\S+before-restore\S+\.zip)\.", done.stdout)
    assert found is not None
    again = studio.manage("restore", found[1], "--replace")
    assert again.returncode == 0, again.stderr
    assert studio.python(COUNT).strip() == "1"


def test_a_copy_that_a_crash_cut_off_is_no_file_and_the_next_one_is_whole(
    studio: Machine, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.zip"

    studio.crash(BACK_UP.format(path=str(copy)), at="backup_half")

    assert not copy.exists()
    studio.python(BACK_UP.format(path=str(copy)))
    assert check_archive(copy).parts
