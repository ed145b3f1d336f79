"""The folder of nightly copies, and what lies in it."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Final

from django.conf import settings

from studio.profile.models import StudioProfile

PATTERN: Final = "northsill-%Y-%m-%d.zip"


def folder_of(profile: StudioProfile) -> Path | None:
    """Return the folder for nightly copies; the environment's goes first."""
    chosen = settings.BACKUP_DIR or profile.backup_dir
    return Path(chosen) if chosen else None


def copies_in(folder: Path) -> dict[date, Path]:
    """Return the nightly copies of a folder, by their day."""
    found: dict[date, Path] = {}
    for path in folder.glob("northsill-*.zip"):
        try:
            made = datetime.strptime(path.name, PATTERN)  # noqa: DTZ007 - a date only
        except ValueError:
            continue
        found[made.date()] = path
    return found
