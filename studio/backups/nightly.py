"""The copy of each night, and which of them are kept."""

from __future__ import annotations

import shutil
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from django.conf import settings

from studio.backups.folder import PATTERN, copies_in, folder_of
from studio.backups.keeping import kept
from studio.backups.operations import BackupError, back_up_to
from studio.profile.models import StudioProfile

NIGHT_ENDS: Final = timedelta(hours=2)
LEFT_OVER: Final = timedelta(days=1)


def back_up_nightly(*, at: datetime) -> Path | None:
    """Make the copy of the night into the chosen folder; None if it is made.

    The file's name is the night's, so a second run finds it. Raises BackupError.
    """
    profile = StudioProfile.load()
    folder = folder_of(profile)
    if folder is None:
        return None
    if not folder.is_dir():
        raise BackupError(f"The folder for nightly copies is not there: {folder}")
    day = (at.astimezone(profile.zone) - NIGHT_ENDS).date()
    path = folder / day.strftime(PATTERN)
    if path.exists():
        return None
    back_up_to(path, at=at)
    _drop_old(folder)
    _drop_left_overs(folder, at)
    return path


def _drop_old(folder: Path) -> None:
    found = copies_in(folder)
    for day in set(found) - kept(found):
        found[day].unlink(missing_ok=True)


def _drop_left_overs(folder: Path, at: datetime) -> None:
    """Remove what copies that a crash cut off have left behind."""
    oldest = (at - LEFT_OVER).timestamp()
    for left in settings.DATA_DIR.glob("backup-*"):
        if left.stat().st_mtime < oldest:
            shutil.rmtree(left, ignore_errors=True)
    for half in folder.glob(".northsill-*.half"):
        if half.stat().st_mtime < oldest:
            half.unlink(missing_ok=True)
