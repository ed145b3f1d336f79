"""Making copies of everything."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

from django.conf import settings
from django.db import connection, transaction

from studio.backups.archive import Manifest, check_archive, write_archive
from studio.backups.engines import PARTS, dump
from studio.backups.facts import facts_of_database, migrations_wait
from studio.errors import DomainError
from studio.faults import faultpoint
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.used import has_tables


class BackupError(DomainError):
    """A copy could not be made, or not be put back."""


def write_backup(target: IO[bytes], *, by: Person | None, at: datetime) -> Manifest:
    """Write a copy of the whole database into an open file."""
    facts = facts_of_database(at)
    with scratch_folder() as scratch:
        path = scratch / PARTS[connection.vendor]
        dump(path)
        faultpoint("backup_half")
        manifest = write_archive(target, files=[(path.name, path)], facts=facts)
    _note(manifest, by=by, at=at)
    return manifest


def back_up_to(path: Path, *, by: Person | None = None, at: datetime) -> Manifest:
    """Write a copy into a new file, whole or not at all, readable by its owner only.

    Raises BackupError.
    """
    if path.exists():
        raise BackupError(f"{path} is there already. Choose another name.")
    half = path.with_name(f".{path.name}.{os.getpid()}.half")
    try:
        handle = os.open(half, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w+b") as target:
            manifest = write_backup(target, by=by, at=at)
            target.flush()
            os.fsync(target.fileno())
        check_archive(half)
        half.replace(path)
    except OSError as fault:
        raise BackupError(f"The copy could not be written: {fault}") from fault
    finally:
        half.unlink(missing_ok=True)
    return manifest


@transaction.atomic
def choose_folder(*, folder: str, by: Person, at: datetime) -> StudioProfile:
    """Say where nightly copies go; nothing stops them. Raises BackupError."""
    path = Path(folder)
    if folder:
        if not path.is_absolute():
            raise BackupError("Give the whole path of the folder, from the root on.")
        if not path.is_dir():
            raise BackupError("There is no such folder on this machine.")
        if not os.access(path, os.W_OK | os.X_OK):
            raise BackupError("The studio may not write into this folder.")
    profile = StudioProfile.load()
    profile.backup_dir = folder
    profile.save(update_fields=["backup_dir"])
    record(profile, "backup folder chosen", by=by, at=at, data={"on": bool(folder)})
    return profile


def safe_copy(why: str, *, at: datetime) -> Path:
    """Copy the database into var/backups/ before something risky is done to it."""
    folder = settings.DATA_DIR / "backups"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path: Path = folder / f"{why}-{at.astimezone(UTC):%Y%m%d-%H%M%S}.zip"
    back_up_to(path, at=at)
    return path


def _note(manifest: Manifest, *, by: Person | None, at: datetime) -> None:
    """Write into the journal that a copy was made, where there is one."""
    if not has_tables() or migrations_wait():
        return
    with transaction.atomic():
        profile = StudioProfile.load()
        profile.backed_up_at = at
        profile.save(update_fields=["backed_up_at"])
        size = sum(part.size for part in manifest.parts)
        record(profile, "backed up", by=by, at=at, data={"bytes": size})


@contextmanager
def scratch_folder() -> Iterator[Path]:
    """Lend a folder that only we can read; it is gone afterwards."""
    settings.DATA_DIR.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="backup-", dir=settings.DATA_DIR) as made:
        yield Path(made)
