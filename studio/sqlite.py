"""Which build of SQLite this process uses, and how it writes.

Builds before 3.51.3 have a rare fault when two processes write in WAL mode, and
distributions carry older ones; `pysqlite3` brings a newer build in a wheel.
"""

import sys
from importlib import import_module
from typing import Final

SAFE_FOR_WAL: Final = (3, 51, 3)


def use_newer_sqlite() -> None:
    """Let `import sqlite3` find the newer build, before Django imports it."""
    if "sqlite3" in sys.modules:
        return
    try:
        newer = import_module("pysqlite3")
    except ImportError:
        return
    sys.modules["sqlite3"] = newer
    sys.modules["sqlite3.dbapi2"] = import_module("pysqlite3.dbapi2")


def build() -> tuple[int, ...]:
    """Return the version of the SQLite build in use, as three numbers."""
    return tuple(import_module("sqlite3").sqlite_version_info)


def journal_mode() -> str:
    """Return WAL where the build is safe with it, DELETE otherwise."""
    return "WAL" if build() >= SAFE_FOR_WAL else "DELETE"
