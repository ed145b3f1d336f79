"""Copying a whole database out and in, by each engine's own safe way.

SQLite: its backup interface, which sees one moment even while others write (a plain
copy of the file does not). PostgreSQL: pg_dump and pg_restore, in one transaction.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path
from typing import Final

from django.db import connection

from studio.errors import DomainError

PARTS: Final = {"sqlite": "database.sqlite3", "postgresql": "database.dump"}
LOCK_WAIT: Final = "-c lock_timeout=10s"


class EngineError(DomainError):
    """The database's own tool could not copy it."""


def dump(target: Path) -> None:
    """Write the database into a new file. Raises EngineError.

    Not inside a transaction: SQLite's backup would wait for its end for ever.
    """
    if connection.in_atomic_block:
        raise EngineError("A copy cannot be made in the middle of other work.")
    if connection.vendor == "sqlite":
        _dump_sqlite(target)
    else:
        _run("pg_dump", "--format=custom", "--no-owner", "--file", str(target))


def check_dump(path: Path) -> None:
    """Look into a dump before it is let near the database. Raises EngineError."""
    if connection.vendor != "sqlite":
        _run("pg_restore", "--list", str(path))
        return
    try:
        with closing(sqlite3.connect(path)) as copy:
            found = copy.execute("PRAGMA integrity_check").fetchone()[0]
    except sqlite3.DatabaseError as fault:
        raise EngineError(f"The copied database cannot be read: {fault}") from fault
    if found != "ok":
        raise EngineError(f"The copied database is damaged: {found}")


def load(path: Path) -> None:
    """Put a dump in the place of the whole database, at once. Raises EngineError."""
    if connection.vendor == "sqlite":
        _load_sqlite(path)
    else:
        _load_postgres(path)


def _dump_sqlite(target: Path) -> None:
    connection.ensure_connection()
    with closing(sqlite3.connect(target)) as copy:
        connection.connection.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")


def _load_sqlite(path: Path) -> None:
    connection.ensure_connection()
    try:
        with closing(sqlite3.connect(path)) as copy:
            copy.backup(connection.connection)
    except sqlite3.DatabaseError as fault:
        raise EngineError(
            f"The database could not be replaced ({fault}). Stop the studio first."
        ) from fault
    finally:
        connection.close()


def _load_postgres(path: Path) -> None:
    script = path.with_suffix(".sql")
    _run("pg_restore", "--no-owner", "--file", str(script), str(path))
    connection.close()
    _run(
        "psql",
        "--quiet",
        "--no-psqlrc",
        "--single-transaction",
        "--set=ON_ERROR_STOP=1",
        "--command=DROP SCHEMA public CASCADE",
        "--command=CREATE SCHEMA public",
        f"--file={script}",
    )


def _run(tool: str, *arguments: str) -> None:
    path = shutil.which(tool)
    if path is None:
        raise EngineError(
            f"{tool} is not installed; it comes with PostgreSQL's client."
        )
    done = subprocess.run(  # noqa: S603 - a list, no shell; names are ours
        [path, *arguments],
        env={**os.environ, **_postgres_environment()},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
    )
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().splitlines()
        raise EngineError(f"{tool} failed: {said[-1] if said else done.returncode}")


def _postgres_environment() -> dict[str, str]:
    given = connection.settings_dict
    names = {
        "PGHOST": given["HOST"],
        "PGPORT": given["PORT"],
        "PGUSER": given["USER"],
        "PGPASSWORD": given["PASSWORD"],
        "PGDATABASE": given["NAME"],
        "PGOPTIONS": LOCK_WAIT,
        "PGSSLMODE": given["OPTIONS"].get("sslmode", ""),
        "PGSSLROOTCERT": given["OPTIONS"].get("sslrootcert", ""),
    }
    return {name: str(value) for name, value in names.items() if value}
