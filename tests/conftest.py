"""What tests of every folder share."""

import gc
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connection
from hypothesis import HealthCheck, settings
from pytest_django.plugin import DjangoDbBlocker

from tests.rivals import set_guards
from tests.stock import drop_stock, take_stock

# A busy machine is slow, not wrong.
settings.register_profile(
    "busy", deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("busy")
LONG_FILES = {"test_demo.py", "test_light_speed.py", "test_solver_properties.py"}
USES_THE_DATABASE = {"db", "transactional_db", "django_db_setup"}


def pytest_configure() -> None:
    """Look for garbage only once all is loaded."""
    gc.disable()


def pytest_collection_finish() -> None:
    """Look for no garbage in what is loaded: it took a tenth of the tests' time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
    gc.enable()


def pytest_unconfigure() -> None:
    """Remove what was made for this run: a worker ends without its exit handlers."""
    folder = Path(os.environ.get("NORTHSILL_VAR", ""))
    if folder.name.startswith("northsill-tests-"):
        shutil.rmtree(folder, ignore_errors=True)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what uses the database, and begin with the files that take longest."""
    for item in items:
        if runs_a_machine(item):
            item.add_marker("django_db")  # else no test database is made to copy
        if uses_the_database(item):
            item.add_marker("database")
    items.sort(key=lambda item: not (runs_a_machine(item) or is_long(item)))


def runs_a_machine(item: pytest.Item) -> bool:
    """Say whether the test's file starts programs with a database of their own."""
    return isinstance(item, pytest.Function) and hasattr(item.module, "new_machine")


def is_long(item: pytest.Item) -> bool:
    """Say whether the test's file alone takes a minute: begun last, it ends alone."""
    return item.path.name in LONG_FILES


def uses_the_database(item: pytest.Item) -> bool:
    """Say whether the test or a fixture of it asks for the database."""
    fixtures = USES_THE_DATABASE.intersection(getattr(item, "fixturenames", ()))
    return bool(fixtures) or item.get_closest_marker("django_db") is not None


@pytest.fixture(scope="session")
def django_db_setup(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker
) -> Iterator[None]:
    """Copy the migrated database while it is empty: machines start from it."""
    with django_db_blocker.unblock():
        take_stock()
    yield
    with django_db_blocker.unblock():
        drop_stock()


@pytest.fixture
def guards_again(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker
) -> Iterator[None]:
    """Put the guards back, last of all."""
    yield
    if connection.vendor == "sqlite":
        with django_db_blocker.unblock():
            set_guards(on=True)


@pytest.fixture
def ring(guards_again: None, transactional_db: None, tmp_path: Path) -> Iterator[Path]:
    """Give a folder for `in_a_file`; the tables can be emptied afterwards."""
    yield tmp_path
    if connection.vendor == "sqlite":
        set_guards(on=False)
