"""The file of a backup: a zip with a manifest that names every part's SHA-256."""

from __future__ import annotations

import hashlib
import json
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import IO, Any, Final

from studio.errors import DomainError

FORMAT: Final = 1
MANIFEST: Final = "manifest.json"
MOST_MANIFEST_BYTES: Final = 1_048_576
CHUNK: Final = 1_048_576
BROKEN: Final = (
    zipfile.BadZipFile,
    zlib.error,
    OSError,
    EOFError,
    RuntimeError,
)


class BrokenArchiveError(DomainError):
    """A file is no whole backup of this tool."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One file in an archive."""

    name: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What an archive says of the database that it was taken from."""

    made_at: str
    engine: str
    versions: dict[str, str]
    migrations: list[list[str]]
    journal_sequence: int
    journal_hash: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """The list of an archive's parts, and the facts of its database."""

    facts: Facts
    parts: tuple[Part, ...]

    def part(self, name: str) -> Part:
        """Return one part. Raises BrokenArchiveError where it is missing."""
        for part in self.parts:
            if part.name == name:
                return part
        raise BrokenArchiveError(f"The copy holds no {name}.")


def write_archive(
    target: IO[bytes], *, files: Iterable[tuple[str, Path]], facts: Facts
) -> Manifest:
    """Write files and their manifest into one archive."""
    made_at = datetime.fromisoformat(facts.made_at)
    parts = []
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name, path in files:
            info = _info(name, made_at)
            with (
                path.open("rb") as source,
                archive.open(info, "w", force_zip64=True) as out,
            ):
                parts.append(_copy(name, source, out))
        manifest = Manifest(facts=facts, parts=tuple(parts))
        written = {"format": FORMAT, **asdict(manifest)}
        archive.writestr(_info(MANIFEST, made_at), json.dumps(written, indent=1))
    return manifest


def check_archive(path: Path) -> Manifest:
    """Read a whole archive and hold every part against its hash.

    Raises BrokenArchiveError with what is wrong.
    """
    with _opened(path) as archive:
        manifest = _read_manifest(archive)
        names = sorted(archive.namelist())
        if names != sorted([MANIFEST, *(part.name for part in manifest.parts)]):
            raise BrokenArchiveError("The copy holds other files than it should.")
        for part in manifest.parts:
            for _ in _checked(archive, part):
                pass
    return manifest


def extract_part(path: Path, *, part: Part, target: Path) -> None:
    """Write one part into a file, checked on the way. Raises BrokenArchiveError."""
    with _opened(path) as archive, target.open("xb") as out:
        for chunk in _checked(archive, part):
            out.write(chunk)


@contextmanager
def _opened(path: Path) -> Iterator[zipfile.ZipFile]:
    if not path.is_file():
        raise BrokenArchiveError(f"There is no file {path}.")
    try:
        with zipfile.ZipFile(path) as archive:
            yield archive
    except BROKEN as fault:
        raise BrokenArchiveError(
            f"{path.name} is cut short, changed or no backup: {fault}"
        ) from fault


def _checked(archive: zipfile.ZipFile, part: Part) -> Iterator[bytes]:
    digest, size = hashlib.sha256(), 0
    with archive.open(part.name) as source:
        while chunk := source.read(CHUNK):
            size += len(chunk)
            if size > part.size:
                raise BrokenArchiveError(f"{part.name} is longer than it should be.")
            digest.update(chunk)
            yield chunk
    if (size, digest.hexdigest()) != (part.size, part.sha256):
        raise BrokenArchiveError(f"{part.name} was changed or is cut short.")


def _read_manifest(archive: zipfile.ZipFile) -> Manifest:
    try:
        info = archive.getinfo(MANIFEST)
        if info.file_size > MOST_MANIFEST_BYTES:
            raise BrokenArchiveError("The list of the copy's parts is too long.")
        with archive.open(info) as stream:
            written: dict[str, Any] = json.loads(stream.read(MOST_MANIFEST_BYTES + 1))
        if written["format"] != FORMAT:
            raise BrokenArchiveError(
                "The copy was made by a newer Northsill. Install that version first."
            )
        return Manifest(
            facts=Facts(**written["facts"]),
            parts=tuple(Part(**part) for part in written["parts"]),
        )
    except (KeyError, TypeError, ValueError, RecursionError) as fault:
        raise BrokenArchiveError("The file is no backup of Northsill.") from fault


def _copy(name: str, source: IO[bytes], out: IO[bytes]) -> Part:
    digest, size = hashlib.sha256(), 0
    while chunk := source.read(CHUNK):
        digest.update(chunk)
        size += len(chunk)
        out.write(chunk)
    return Part(name=name, size=size, sha256=digest.hexdigest())


def _info(name: str, made_at: datetime) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, date_time=made_at.timetuple()[:6])
    info.compress_type = zipfile.ZIP_DEFLATED
    info.external_attr = 0o600 << 16
    return info
