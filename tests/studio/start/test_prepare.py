from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from studio.start.prepare import collect_static
from tests.machine import ROOT, Machine, new_machine

PREPARE = """
from datetime import UTC, datetime, timedelta
from studio.errors import DomainError
from studio.start.prepare import prepare
try:
    prepare(at=datetime.now(UTC) + timedelta(minutes=LATER), say=print)
except DomainError as refusal:
    print("refused:", refusal)
"""
START, LATER = f"LATER = 0\n{PREPARE}", f"LATER = 1\n{PREPARE}"
WORK = "from tests.make import make_job, make_profile; make_profile(); make_job()\n"
NEWER = """
from django.db.migrations.recorder import MigrationRecorder
from django.db import connection
MigrationRecorder(connection).record_applied("studio", "9999_from_the_future")
"""
LAST_BUT_ONE = sorted(ROOT.glob("jobs/migrations/0*.py"))[-2].stem


@pytest.fixture
def machine(django_db_setup: None, tmp_path: Path) -> Iterator[Machine]:
    with new_machine(tmp_path / "var", migrated=True) as machine:
        yield machine


def copies(machine: Machine) -> list[str]:
    return [path.name for path in machine.var.glob("backups/*.zip")]


def test_work_is_copied_before_its_tables_change(machine: Machine) -> None:
    said = machine.python(START)
    assert "copy" not in said

    machine.python(WORK)
    back = machine.manage("migrate", "jobs", LAST_BUT_ONE, "-v", "0")
    assert back.returncode == 0, back.stderr
    machine.crash(START, at="migration_half")
    assert len(copies(machine)) == 1
    said = machine.python(LATER)

    assert "A copy of it as it was" in said
    assert len(copies(machine)) == 2
    assert machine.manage("migrate", "--check").returncode == 0

    machine.python(START)
    assert len(copies(machine)) == 2
    machine.python(NEWER)
    assert "refused: This database was used by a newer" in machine.python(START)


def test_static_files_are_collected_only_when_they_have_changed(
    settings: Any, tmp_path: Path
) -> None:
    settings.STATIC_ROOT = tmp_path / "static"
    source = tmp_path / "source"
    source.mkdir()
    (source / "one.css").write_text("a {}")
    settings.STATICFILES_DIRS = [source]

    first, second = collect_static(), collect_static()
    (source / "two.css").write_text("b {}")
    third = collect_static()

    assert (first, second, third) == (True, False, True)
    assert (tmp_path / "static" / "two.css").exists()
