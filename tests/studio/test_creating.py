"""Tables made in one step are those that the migrations one by one would make."""

import os
import re
import sqlite3
import subprocess
import sys
from pathlib import Path
from typing import Any, cast

import pytest
from django.db import connection
from django.db.migrations.operations import CreateModel
from django.db.migrations.state import ProjectState
from django.db.models import BigAutoField, CharField, Field, Model

from studio.creating import CreateModels

ONE_BY_ONE = """
from django.db.migrations.loader import MigrationLoader
read = MigrationLoader.load_disk
def leave_out_short_cuts(self):
    read(self)
    found = self.disk_migrations.items()
    self.disk_migrations = {key: step for key, step in found if not step.replaces}
MigrationLoader.load_disk = leave_out_short_cuts
"""
MIGRATE = """
import django
django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
"""


def migrated(var: Path, *, first: str = "") -> dict[str, object]:
    """Return what a new database holds, by name, after migrating it."""
    surroundings = os.environ | {
        "NORTHSILL_VAR": str(var),
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "PYTHONPATH": ".",
    }
    surroundings.pop("DATABASE_URL", None)
    subprocess.run(
        [sys.executable, "-c", first + MIGRATE], check=True, env=surroundings
    )
    with sqlite3.connect(var / "northsill.sqlite3") as database:
        return {
            name: (kind, words_of(definition))
            for kind, name, definition in database.execute(
                "SELECT type, name, sql FROM sqlite_master"
            )
        }


def words_of(definition: str | None) -> list[str]:
    """Return the parts of a definition sorted: columns may stand anyhow."""
    return sorted(re.split(r",\s|\s(?=CONSTRAINT)|[()]", definition or ""))


@pytest.mark.slow
def test_the_short_cut_makes_the_tables_of_the_long_way(tmp_path: Path) -> None:
    short, long = tmp_path / "short", tmp_path / "long"
    short.mkdir()
    long.mkdir()

    assert migrated(short) == migrated(long, first=ONE_BY_ONE)


class Editor:
    """Notes which tables were made and dropped, instead of a database."""

    def __init__(self) -> None:
        self.connection = connection
        self.told: list[str] = []

    def create_model(self, model: type[Model]) -> None:
        self.told.append(f"made {model._meta.db_table}")

    def delete_model(self, model: type[Model]) -> None:
        self.told.append(f"dropped {model._meta.db_table}")


def test_tables_are_made_in_their_order_and_dropped_the_other_way_round() -> None:
    words: list[tuple[str, Field[Any, Any]]] = [
        ("id", BigAutoField(primary_key=True)),
        ("word", CharField(max_length=9)),
    ]
    step = CreateModels([CreateModel(name, words) for name in ("Plinth", "Gable")])
    before, after = ProjectState(), ProjectState()
    assert not list(after.apps.get_models())
    step.state_forwards("studio", after)
    editor = Editor()

    step.database_forwards("studio", cast("Any", editor), before, after)
    step.database_backwards("studio", cast("Any", editor), after, before)

    assert editor.told == [
        "made studio_plinth",
        "made studio_gable",
        "dropped studio_gable",
        "dropped studio_plinth",
    ]
    assert step.describe() == "Create 2 tables"
