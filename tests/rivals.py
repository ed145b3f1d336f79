"""Several people at once, each on a connection of their own.

The test database of SQLite lies in memory, where a second writer fails instead of
waiting; so what is raced for is put into a file first, as a studio has it.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Barrier, Thread
from typing import Any

from django.db import connection, connections

from studio.errors import DomainError
from studio.guards import EXPECTED
from tests.stock import copy_into_file

Act = Callable[[], Any]


@contextmanager
def in_a_file(folder: Path) -> Iterator[None]:
    """Let new connections open a copy of the database that lies in a file."""
    if connection.vendor != "sqlite":
        yield
        return
    file = folder / "rivals.sqlite3"
    copy_into_file(str(file))
    settings = connections.settings["default"]
    kept = settings["NAME"]
    settings["NAME"] = str(file)
    try:
        yield
    finally:
        settings["NAME"] = kept


def race(*acts: Act) -> list[Any]:
    """Let all acts start at once; return what each gives, or its refusal."""
    start, given = Barrier(len(acts)), [None] * len(acts)

    def run(place: int, act: Act) -> None:
        connection.ensure_connection()
        start.wait(timeout=20)
        try:
            given[place] = act()
        except DomainError as refusal:
            given[place] = refusal  # type: ignore[call-overload]
        finally:
            connection.close()

    threads = [Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    return given


def set_guards(*, on: bool) -> None:
    """Install or remove every guard; emptying the tables needs them gone."""
    with connection.schema_editor() as editor:
        for guard in EXPECTED.values():
            guard.install(editor) if on else guard.remove(editor)
