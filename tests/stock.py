"""The migrated and empty database, kept aside: copying it is quicker than migrating."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connection

from studio.sqlite import journal_mode

_STOCK: dict[str, str] = {}


def take_stock() -> None:
    """Keep a copy of the test database, which nobody has written to yet."""
    if connection.vendor == "sqlite":
        folder = tempfile.mkdtemp(prefix="northsill-stock-")
        _STOCK["taken"] = str(Path(folder) / "northsill.sqlite3")
        copy_into_file(_STOCK["taken"])
        return
    test_database = connection.settings_dict["NAME"]
    connection.close()
    _STOCK["taken"] = f"{test_database}_stock"
    with server() as cursor:
        cursor.execute(f"DROP DATABASE IF EXISTS {_STOCK['taken']}")
        cursor.execute(f"CREATE DATABASE {_STOCK['taken']} TEMPLATE {test_database}")


def copy_into_file(path: str) -> None:
    """Copy SQLite's test database into a file, in the mode a studio's file is in.

    Of two connections that turn one file to WAL at once, one fails without waiting:
    a studio's file is long in that mode when a second process opens it.
    """
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [path])
    with closing(sqlite3.connect(path)) as copy:
        copy.execute(f"PRAGMA journal_mode={journal_mode()}")


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
