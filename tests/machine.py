"""A machine of its own: a data folder and a database, driven by commands."""

from __future__ import annotations

import json
import os
import secrets
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.conf import settings

from tests.stock import create_database, drop_database, put_stock_into, url_of

ROOT = Path(__file__).parents[1]
SETUP = (
    "import os, sys, json, django\n"
    "os.environ.setdefault('DJANGO_SETTINGS_MODULE', 'tests.settings')\n"
    "from studio.sqlite import use_newer_sqlite\n"
    "use_newer_sqlite()\n"
    "django.setup()\n"
)
ROWS = """
import hashlib
from django.apps import apps
seen = {}
for model in apps.get_models():
    if model._meta.managed and model._meta.app_label != "contenttypes":
        rows = list(model._default_manager.order_by("pk").values_list())
        seen[model._meta.label] = hashlib.sha256(repr(rows).encode()).hexdigest()
print(json.dumps(seen))
"""


class Machine:
    """Runs this program's commands on a data folder and database of their own."""

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
        return self._run("manage.py", *arguments)

    def python(self, code: str) -> str:
        """Run code after Django's set-up; return what it prints."""
        done = self._run("-c", SETUP + code)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def crash(self, code: str, *, at: str) -> None:
        """Run code that is killed at a faultpoint, as by a power cut."""
        armed = (
            "from django.conf import settings\n"
            f"settings.FAULTPOINTS = frozenset({{{at!r}}})\n"
        )
        done = self._run("-c", SETUP + armed + code)
        assert done.returncode == -signal.SIGKILL, done.stderr

    def rows(self) -> dict[str, Any]:
        """Return a hash of all rows for each table."""
        seen: dict[str, Any] = json.loads(self.python(ROWS))
        return seen

    def _run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, *arguments],
            cwd=ROOT,
            env=self.environment,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )


@contextmanager
def new_machine(
    folder: Path, *, migrated: bool, **environment: str
) -> Iterator[Machine]:
    """Lend a machine with an empty database of the kind that the tests run on.

    A migrated one has its tables already; its test uses `django_db_setup`.
    """
    if settings.DATABASES["default"]["ENGINE"].endswith("sqlite3"):
        if migrated:
            put_stock_into(folder)
        yield Machine(folder, **environment)
        return
    name = f"northsill_{secrets.token_hex(6)}"
    create_database(name, migrated=migrated)
    try:
        yield Machine(folder, url_of(name), **environment)
    finally:
        drop_database(name)
