"""A machine of its own: a data folder and a database, driven by commands."""

from __future__ import annotations

import json
import os
import secrets
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from functools import cached_property
from pathlib import Path
from typing import Any

from django.conf import settings

from tests.forks import Forks
from tests.stock import create_database, drop_database, put_stock_into, url_of

ROOT = Path(__file__).parents[1]
ROWS = """
import hashlib, json
from django.apps import apps
seen = {}
for model in apps.get_models():
    if model._meta.managed and model._meta.app_label != "contenttypes":
        rows = list(model._default_manager.order_by("pk").values_list())
        seen[model._meta.label] = hashlib.sha256(repr(rows).encode()).hexdigest()
print(json.dumps(seen))
"""


class Machine:
    """Runs this program's commands on a data folder and database of their own.

    A command is started as a user starts it; code runs in a fork of one process.
    """

    def __init__(self, var: Path, database_url: str = "", **environment: str) -> None:
        self.var = var
        self.environment = {
            **os.environ,
            "NORTHSILL_VAR": str(var),
            "DATABASE_URL": database_url,
            "REDIS_URL": "",
            "PYTHONWARNINGS": "default",
            **environment,
        }

    def manage(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "manage.py", *arguments],
            cwd=ROOT,
            env=self.environment,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )

    def python(self, code: str) -> str:
        """Run code after Django's set-up; return what it prints."""
        done = self.forks.run(code)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def crash(self, code: str, *, at: str) -> None:
        """Run code that is killed at a faultpoint, as by a power cut."""
        armed = (
            "from django.conf import settings\n"
            f"settings.FAULTPOINTS = frozenset({{{at!r}}})\n"
        )
        done = self.forks.run(armed + code)
        assert done.returncode == -signal.SIGKILL, done.stderr

    def rows(self) -> dict[str, Any]:
        """Return a hash of all rows for each table."""
        seen: dict[str, Any] = json.loads(self.python(ROWS))
        return seen

    @cached_property
    def forks(self) -> Forks:
        return Forks(self.environment, folder=ROOT)

    def close(self) -> None:
        if "forks" in self.__dict__:
            self.forks.close()


@contextmanager
def new_machine(
    folder: Path, *, migrated: bool, **environment: str
) -> Iterator[Machine]:
    """Lend a machine with an empty database of the kind that the tests run on.

    A migrated one has its tables already; its test uses `django_db_setup`.
    """
    with ExitStack() as stack:
        url = ""
        if settings.DATABASES["default"]["ENGINE"].endswith("sqlite3"):
            if migrated:
                put_stock_into(folder)
        else:
            name = f"northsill_{secrets.token_hex(6)}"
            create_database(name, migrated=migrated)
            stack.callback(drop_database, name)
            url = url_of(name)
        machine = Machine(folder, url, **environment)
        stack.callback(machine.close)
        yield machine
