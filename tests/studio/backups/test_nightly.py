import os
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from studio.backups import operations
from studio.backups.archive import check_archive
from studio.backups.nightly import back_up_nightly
from studio.backups.operations import BackupError, back_up_to, choose_folder
from studio.history.models import JournalEntry
from studio.profile.models import StudioProfile
from tests.make import NOON, make_job, make_person, make_profile

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def dump(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stand in for the engine's own copying, which is tested by whole restores."""

    def write(target: Path) -> None:
        target.write_bytes(b"the database")

    monkeypatch.setattr(operations, "dump", write)


def test_the_night_has_one_copy_however_often_it_is_asked_for(tmp_path: Path) -> None:
    make_profile(backup_dir=str(tmp_path))
    make_job()

    first = back_up_nightly(at=NOON)
    second = back_up_nightly(at=NOON + timedelta(hours=5))

    assert first == tmp_path / "northsill-2026-06-21.zip"
    assert second is None
    assert (
        check_archive(first).facts.journal_sequence == JournalEntry.objects.count() - 1
    )
    assert StudioProfile.load().backed_up_at == NOON


def test_the_night_ends_at_two(tmp_path: Path) -> None:
    make_profile(backup_dir=str(tmp_path))

    path = back_up_nightly(at=NOON + timedelta(hours=12))  # 01:00 in London

    assert path is not None
    assert path.name == "northsill-2026-06-21.zip"


def test_only_the_owner_of_the_file_reads_it(tmp_path: Path) -> None:
    make_profile()
    path = tmp_path / "copy.zip"

    back_up_to(path, at=NOON)

    assert path.stat().st_mode & 0o777 == 0o600
    assert [entry.name for entry in tmp_path.iterdir()] == ["copy.zip"]


def test_an_older_copy_is_never_written_over(tmp_path: Path) -> None:
    make_profile()
    path = tmp_path / "copy.zip"
    path.write_text("precious")

    with pytest.raises(BackupError, match="there already"):
        back_up_to(path, at=NOON)

    assert path.read_text() == "precious"


def test_without_a_folder_there_is_no_nightly_copy() -> None:
    make_profile()

    assert back_up_nightly(at=NOON) is None


def test_a_folder_that_is_gone_is_said_and_not_made(tmp_path: Path) -> None:
    make_profile(backup_dir=str(tmp_path / "disk"))

    with pytest.raises(BackupError, match="is not there"):
        back_up_nightly(at=NOON)

    assert not (tmp_path / "disk").exists()


def test_old_copies_go_and_other_files_stay(tmp_path: Path) -> None:
    make_profile(backup_dir=str(tmp_path))
    for back in range(1, 40):
        day = NOON.date() - timedelta(days=back)
        (tmp_path / f"northsill-{day}.zip").touch()
    (tmp_path / "northsill-letters.zip").touch()

    back_up_nightly(at=NOON)

    left = {entry.name for entry in tmp_path.iterdir()}
    assert "northsill-letters.zip" in left
    assert "northsill-2026-06-15.zip" in left
    assert "northsill-2026-06-10.zip" not in left


def test_what_a_crash_left_behind_is_cleared_away(
    tmp_path: Path, settings: Any
) -> None:
    settings.DATA_DIR = tmp_path / "var"
    left = settings.DATA_DIR / "backup-abc"
    left.mkdir(parents=True)
    os.utime(left, (0, 0))
    (tmp_path / "copies").mkdir()
    make_profile(backup_dir=str(tmp_path / "copies"))

    back_up_nightly(at=NOON)

    assert not left.exists()


@pytest.mark.parametrize(
    ("folder", "said"),
    [("copies", "whole path"), ("/no/such/folder", "no such folder")],
)
def test_a_folder_that_cannot_be_used_is_refused(folder: str, said: str) -> None:
    make_profile()

    with pytest.raises(BackupError, match=said):
        choose_folder(folder=folder, by=make_person(), at=NOON)
