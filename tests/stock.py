"""The migrated and empty database, kept aside: copying it is quicker than migrating."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connection

_STOCK: dict[str, str] = {}


def take_stock() -> None:
    """Keep a copy of the test database, which nobody has written to yet."""
    if connection.vendor == "sqlite":
        folder = tempfile.mkdtemp(prefix="northsill-stock-")
        _STOCK["taken"] = str(Path(folder) / "northsill.sqlite3")
        with connection.cursor() as cursor:
            cursor.execute("VACUUM INTO %s", [_STOCK["taken"]])
        return
    test_database = connection.settings_dict["NAME"]
    connection.close()
    _STOCK["taken"] = f"{test_database}_stock"
    with server() as cursor:
        cursor.execute(f"DROP DATABASE IF EXISTS {_STOCK['taken']}")
        cursor.execute(f"CREATE DATABASE {_STOCK['taken']} TEMPLATE {test_database}")


def drop_stock() -> None:
    """Remove the copy."""
    taken = _STOCK.pop("taken")
    if connection.vendor == "sqlite":
        shutil.rmtree(Path(taken).parent)
        return
    with server() as cursor:
        cursor.execute(f"DROP DATABASE {taken} WITH (FORCE)")


def put_stock_into(var: Path) -> None:
    """Give a data folder a migrated SQLite database."""
    var.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(_stock(), var / "northsill.sqlite3")


def create_database(name: str, *, migrated: bool) -> None:
    """Make a database on the PostgreSQL server of the tests."""
    template = f" TEMPLATE {_stock()}" if migrated else ""
    with server() as cursor:
        cursor.execute(f"CREATE DATABASE {name}{template}")


def drop_database(name: str) -> None:
    """Remove a database from the PostgreSQL server of the tests."""
    with server() as cursor:
        cursor.execute(f"DROP DATABASE {name} WITH (FORCE)")


def url_of(name: str) -> str:
    """Return the address of a database on the PostgreSQL server of the tests."""
    given = settings.DATABASES["default"]
    who = given["USER"] + (f":{given['PASSWORD']}" if given["PASSWORD"] else "")
    return f"postgresql://{who}@{given['HOST']}:{given['PORT']}/{name}"


@contextmanager
def server() -> Iterator[Any]:
    """Lend a cursor outside of every test database and transaction."""
    import psycopg  # noqa: PLC0415 - only where PostgreSQL is used

    with psycopg.connect(url_of("postgres"), autocommit=True) as connection:
        yield connection.cursor()


def _stock() -> str:
    assert _STOCK, "a test with a migrated machine uses the fixture django_db_setup"
    return _STOCK["taken"]
