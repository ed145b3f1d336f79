import io
import json
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from studio.backups.archive import (
    BrokenArchiveError,
    Facts,
    Manifest,
    check_archive,
    extract_part,
    write_archive,
)
from tests.make import NOON

FACTS = Facts(
    made_at=NOON.isoformat(),
    engine="sqlite",
    versions={"django": "5.2"},
    migrations=[["studio", "0001_initial"]],
    journal_sequence=7,
    journal_hash="a" * 64,
)
CONTENT = bytes(range(256)) * 500


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    source, target = tmp_path / "database.sqlite3", tmp_path / "copy.zip"
    source.write_bytes(CONTENT)
    with target.open("wb") as out:
        write_archive(out, files=[("database.sqlite3", source)], facts=FACTS)
    return target


def test_what_is_written_comes_back(archive: Path, tmp_path: Path) -> None:
    manifest = check_archive(archive)
    out = tmp_path / "out"
    extract_part(archive, part=manifest.part("database.sqlite3"), target=out)

    assert manifest.facts == FACTS
    assert out.read_bytes() == CONTENT


def test_equal_content_gives_equal_bytes(archive: Path, tmp_path: Path) -> None:
    again = io.BytesIO()
    files = [("database.sqlite3", tmp_path / "database.sqlite3")]
    write_archive(again, files=files, facts=FACTS)

    assert again.getvalue() == archive.read_bytes()


@pytest.mark.parametrize("share", [0.0, 0.01, 0.3, 0.6, 0.9, 0.99])
def test_a_file_that_is_cut_short_is_refused(archive: Path, share: float) -> None:
    whole = archive.read_bytes()
    archive.write_bytes(whole[: int(len(whole) * share)])

    with pytest.raises(BrokenArchiveError):
        check_archive(archive)


def test_a_changed_byte_anywhere_is_refused_or_changes_nothing(archive: Path) -> None:
    whole = archive.read_bytes()
    manifest = check_archive(archive)

    for place in range(0, len(whole), 7):
        altered = bytearray(whole)
        altered[place] ^= 0x10
        archive.write_bytes(bytes(altered))
        try:
            read = check_archive(archive)
        except BrokenArchiveError:
            continue
        assert read == manifest, place


def rewrite(archive: Path, manifest: dict[str, object], content: bytes) -> None:
    with zipfile.ZipFile(archive, "w") as out:
        out.writestr("database.sqlite3", content)
        out.writestr("manifest.json", json.dumps(manifest))


def as_written(archive: Path) -> dict[str, object]:
    with zipfile.ZipFile(archive) as opened:
        written: dict[str, object] = json.loads(opened.read("manifest.json"))
    return written


def test_other_content_under_the_same_manifest_is_refused(archive: Path) -> None:
    rewrite(archive, as_written(archive), CONTENT[:-1] + b"x")

    with pytest.raises(BrokenArchiveError, match="was changed"):
        check_archive(archive)


def test_a_part_longer_than_it_says_is_not_read_to_its_end(archive: Path) -> None:
    rewrite(archive, as_written(archive), CONTENT + bytes(50_000_000))

    with pytest.raises(BrokenArchiveError, match="longer"):
        check_archive(archive)


def test_a_copy_of_a_newer_format_is_refused(archive: Path) -> None:
    rewrite(archive, as_written(archive) | {"format": 2}, CONTENT)

    with pytest.raises(BrokenArchiveError, match="newer"):
        check_archive(archive)


@pytest.mark.parametrize(
    "content", ["[]", "{}", "nonsense", '{"format": 1}', "[" * 100_000]
)
def test_a_manifest_that_is_none_is_refused(archive: Path, content: str) -> None:
    with zipfile.ZipFile(archive, "w") as out:
        out.writestr("manifest.json", content)

    with pytest.raises(BrokenArchiveError):
        check_archive(archive)


def test_a_part_that_is_not_there_is_named() -> None:
    manifest = Manifest(facts=replace(FACTS, engine="postgresql"), parts=())

    with pytest.raises(BrokenArchiveError, match=r"database\.dump"):
        manifest.part("database.dump")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BrokenArchiveError, match="no file"):
        check_archive(tmp_path / "none.zip")
