"""Questions about the studio's copies, answered with plain values."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Final

from django.conf import settings

from studio.backups.folder import copies_in, folder_of
from studio.profile.models import StudioProfile

MOST_SHOWN: Final = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One nightly copy in the folder."""

    day: date
    name: str
    size_kb: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CopiesShown:
    """What the page of copies shows."""

    last_at: datetime | None
    folder: str
    is_there: bool
    is_set_outside: bool
    is_on_same_disk: bool
    copies: tuple[Copy, ...]


def show_copies() -> CopiesShown:
    """Return when the last copy was made, and which ones the folder holds."""
    profile = StudioProfile.load()
    folder = folder_of(profile)
    there = folder is not None and folder.is_dir()
    return CopiesShown(
        last_at=profile.backed_up_at,
        folder=str(folder or ""),
        is_there=there,
        is_set_outside=bool(settings.BACKUP_DIR),
        is_on_same_disk=folder is not None and there and _on_same_disk(folder),
        copies=_copies(folder) if folder is not None and there else (),
    )


def _copies(folder: Path) -> tuple[Copy, ...]:
    newest_first = sorted(copies_in(folder).items(), reverse=True)[:MOST_SHOWN]
    return tuple(
        Copy(day=day, name=path.name, size_kb=-(-path.stat().st_size // 1000))
        for day, path in newest_first
    )


def _on_same_disk(folder: Path) -> bool:
    return os.stat(folder).st_dev == os.stat(settings.DATA_DIR).st_dev
