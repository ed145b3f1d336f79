"""Putting a copy back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.core.management import call_command
from django.db import connection

from studio.backups.archive import (
    BrokenArchiveError,
    Facts,
    Manifest,
    check_archive,
    extract_part,
)
from studio.backups.engines import PARTS, check_dump, load
from studio.backups.facts import unknown_migrations
from studio.backups.operations import BackupError, safe_copy, scratch_folder
from studio.history.models import JournalEntry
from studio.used import holds_work


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What a restore did."""

    manifest: Manifest
    safety_copy: Path | None


def restore(path: Path, *, replace: bool, at: datetime) -> Restored:
    """Put a copy in the place of the database. Everything is checked first.

    A database that holds work is only replaced if asked for, and is copied before.
    Raises BrokenArchiveError, EngineError, BackupError.
    """
    manifest = check_archive(path)
    _check_fits(manifest.facts)
    safety_copy = None
    if holds_work():
        if not replace:
            raise BackupError(
                "This database holds work. Say --replace to put the copy in its "
                "place; the work is copied to a file first."
            )
        safety_copy = safe_copy("before-restore", at=at)
    with scratch_folder() as scratch:
        part = manifest.part(PARTS[connection.vendor])
        extracted = scratch / part.name
        extract_part(path, part=part, target=extracted)
        check_dump(extracted)
        load(extracted)
    call_command("migrate", interactive=False, verbosity=0)
    _check_journal(manifest.facts)
    return Restored(manifest=manifest, safety_copy=safety_copy)


def _check_fits(facts: Facts) -> None:
    if facts.engine != connection.vendor:
        raise BackupError(
            f"The copy is of a {facts.engine} database; this one is "
            f"{connection.vendor}."
        )
    if unknown_migrations(facts):
        raise BackupError(
            "The copy was made by a newer Northsill. Install that version first."
        )


def _check_journal(facts: Facts) -> None:
    entries = JournalEntry.objects.filter(
        sequence=facts.journal_sequence, hash=facts.journal_hash
    )
    if facts.journal_sequence and not entries.exists():
        raise BrokenArchiveError(
            "The restored journal does not end where the copy says it should."
        )
