"""Several people at once, each on a connection of their own.

The test database of SQLite lies in memory, where a second writer fails instead of
waiting; so what is raced for is put into a file first, as a studio has it.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Barrier, BrokenBarrierError, Thread
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
    """Let all acts start at once; return what each gives, or its refusal.

    A connection that cannot be opened ends the race for all, and its reason is raised.
    """
    line = _Line(len(acts))
    threads = [Thread(target=line.run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    if line.faults:
        raise line.faults[0]
    return line.given


class _Line:
    """Where all wait for the start."""

    def __init__(self, places: int) -> None:
        self.given: list[Any] = [None] * places
        self.faults: list[Exception] = []
        self._start = Barrier(places)

    def run(self, place: int, act: Act) -> None:
        try:
            if self._may_start():
                self.given[place] = act()
        except DomainError as refusal:
            self.given[place] = refusal
        finally:
            connection.close()

    def _may_start(self) -> bool:
        try:
            connection.ensure_connection()
            self._start.wait(timeout=20)
        except BrokenBarrierError as broken:
            self.faults.append(broken)  # behind the reason, if there is one
            return False
        except Exception as fault:  # noqa: BLE001 - raised where the race is held
            self.faults.insert(0, fault)
            self._start.abort()
            return False
        return True


def set_guards(*, on: bool) -> None:
    """Install or remove every guard; emptying the tables needs them gone."""
    with connection.schema_editor() as editor:
        for guard in EXPECTED.values():
            guard.install(editor) if on else guard.remove(editor)
