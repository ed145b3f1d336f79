"""What stands between a fresh clone, or an older database, and the first page."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Final

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command

from studio.backups.facts import facts_of_database, migrations_wait, unknown_migrations
from studio.backups.operations import safe_copy
from studio.errors import DomainError
from studio.faults import faultpoint
from studio.used import has_tables, holds_work

Say = Callable[[str], None]
STAMP: Final = ".made-from"


class NewerDatabaseError(DomainError):
    """The database was used by a newer version of this program."""


def prepare(*, at: datetime, say: Say) -> None:
    """Bring the database and the static files up to this version.

    A database that holds work is copied before its tables change. Raises
    NewerDatabaseError.
    """
    keep_to_ourselves(settings.DATA_DIR)
    if has_tables():
        _refuse_newer(at)
    if migrations_wait():
        if holds_work():
            copy = safe_copy("before-update", at=at)
            say(f"The database is updated. A copy of it as it was: {copy}")
        faultpoint("migration_half")
        call_command("migrate", interactive=False, verbosity=0)
    collect_static()


def keep_to_ourselves(folder: Path) -> None:
    """Make the data folder, closed to other users of the machine."""
    folder.mkdir(parents=True, exist_ok=True)
    if os.name == "posix":
        folder.chmod(0o700)


def collect_static() -> bool:
    """Collect style sheets, scripts and fonts if any has changed; say whether so."""
    root = Path(settings.STATIC_ROOT)
    stamp, sources = root / STAMP, _static_sources()
    if stamp.exists() and stamp.read_text() == sources:
        return False
    call_command("collectstatic", interactive=False, verbosity=0)
    root.mkdir(parents=True, exist_ok=True)
    stamp.write_text(sources)
    return True


def _refuse_newer(at: datetime) -> None:
    if unknown_migrations(facts_of_database(at)):
        raise NewerDatabaseError(
            "This database was used by a newer Northsill. Start that version, or "
            "restore a copy made by this one."
        )


def _static_sources() -> str:
    digest = hashlib.sha256(settings.STORAGES["staticfiles"]["BACKEND"].encode())
    for finder in get_finders():
        for name, storage in finder.list([]):
            seen = Path(storage.path(name)).stat()
            digest.update(f"{name} {seen.st_size} {seen.st_mtime_ns}\n".encode())
    return digest.hexdigest()
