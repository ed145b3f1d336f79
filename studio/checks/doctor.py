"""What is wrong with the set-up of this machine, in plain sentences."""

from __future__ import annotations

import os
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

import font_source_sans_pro
from django.conf import settings
from django.core.checks import run_checks
from django.db import DatabaseError, connection

from studio.backups.facts import facts_of_database, migrations_wait, unknown_migrations
from studio.backups.folder import folder_of
from studio.checks.records import missing_guards
from studio.environment import SERVER
from studio.health.broker import broker_fault
from studio.history.models import JournalEntry
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from studio.sqlite import SAFE_FOR_WAL, build

LITTLE_SPACE: Final = 50_000_000
SCARCE_SPACE: Final = 500_000_000
LONG_WAIT: Final = timedelta(minutes=10)
OLD_COPY: Final = timedelta(days=3)
CLOCK_SLACK: Final = timedelta(minutes=2)
OLDEST_POSTGRES: Final = 150_000
FACES: Final = ("Regular", "Semibold", "Bold", "Black", "It")


class Level(StrEnum):
    """How much a finding matters."""

    FINE = "fine"
    CAUTION = "caution"
    FAULT = "fault"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at."""

    level: Level
    sentence: str


def _fine(sentence: str) -> Finding:
    return Finding(Level.FINE, sentence)


def _caution(sentence: str) -> Finding:
    return Finding(Level.CAUTION, sentence)


def _fault(sentence: str) -> Finding:
    return Finding(Level.FAULT, sentence)


def examine(*, at: datetime) -> Iterator[Finding]:
    """Yield what is found, fine or not; a database that is down ends it early."""
    yield from _program()
    yield from _time_zones()
    yield from _fonts()
    yield from _data_folder()
    try:
        connection.ensure_connection()
        yield from _database()
        if migrations_wait():
            yield _fault("The database is older than this program: run `start`.")
            return
        if unknown_migrations(facts_of_database(at)):
            yield _fault("The database was used by a newer Northsill.")
        for sentence in missing_guards():
            yield _fault(sentence)
        yield from _studio()
        yield from _mail(at)
        yield from _copies(at)
        yield from _clock(at)
    except DatabaseError as fault:
        yield _fault(f"The database cannot be used: {fault}")
    yield from _broker()
    yield from _server()


def _program() -> Iterator[Finding]:
    version = ".".join(map(str, sys.version_info[:3]))
    yield _fine(f"Python {version} on {sys.platform}.")
    if sys.flags.optimize:
        yield _fault("Python runs with -O, which leaves checks of libraries out.")


def _time_zones() -> Iterator[Finding]:
    """Yield a fault where the rules of summer time are missing or wrong.

    Britain's clocks stood an hour before UTC at noon of 21 June 2026 and level with
    it on 21 December: the Summer Time Order 2002, from memory.
    """
    try:
        london = ZoneInfo("Europe/London")
    except ZoneInfoNotFoundError:
        yield _fault("Time zone data are missing: install the package tzdata.")
        return
    hours = [
        datetime(2026, month, 21, 12, tzinfo=london).utcoffset() for month in (6, 12)
    ]
    if hours == [timedelta(hours=1), timedelta(0)]:
        yield _fine(f"Time zone data are there, {len(available_timezones())} zones.")
    else:
        yield _fault("Time zone data are wrong: summer time is not in them.")


def _fonts() -> Iterator[Finding]:
    folder = Path(font_source_sans_pro.font_directory)
    missing = [name for name in FACES if not list(folder.glob(f"*-{name}.ttf"))]
    if missing:
        yield _fault(f"Typefaces of papers are missing: {', '.join(missing)}.")
        return
    further = [str(path) for path in getattr(settings, "PDF_FALLBACK_FONTS", ())]
    yield _fine(
        "Papers are set in Source Sans"
        + (f", then {', '.join(further)}." if further else " (Latin, Greek, Cyrillic).")
    )
    for path in further:
        if not Path(path).is_file():
            yield _fault(f"The further typeface {path} is not there.")


def _data_folder() -> Iterator[Finding]:
    folder: Path = settings.DATA_DIR
    if not folder.is_dir():
        yield _caution(f"{folder} is not there yet; `start` makes it.")
        return
    if not os.access(folder, os.W_OK | os.X_OK):
        yield _fault(f"The program may not write into {folder}.")
    for path, most in ((folder, 0o700), (folder / "secret_key", 0o600)):
        if os.name == "posix" and path.exists() and path.stat().st_mode & 0o077:
            yield _caution(f"Others on this machine may read {path}: chmod {most:o}.")
    free = shutil.disk_usage(folder).free
    said = f"{free / 1e9:,.1f} GB are free where the data lies."
    if free < LITTLE_SPACE:
        yield _fault(said)
    else:
        yield _caution(said) if free < SCARCE_SPACE else _fine(said)


def _database() -> Iterator[Finding]:
    if connection.vendor == "sqlite":
        yield from _sqlite()
        return
    with connection.cursor() as cursor:
        cursor.execute("SHOW server_version_num")
        number = int(cursor.fetchone()[0])
    said = f"PostgreSQL {number // 10_000}.{number % 10_000}."
    yield _fine(said) if number >= OLDEST_POSTGRES else _fault(f"{said} 15 is needed.")
    for tool in ("pg_dump", "pg_restore", "psql"):
        if shutil.which(tool) is None:
            yield _fault(f"{tool} is not installed: no copies can be made.")


def _sqlite() -> Iterator[Finding]:
    module = getattr(sqlite3, "__name__", "sqlite3")
    yield _fine(f"SQLite {sqlite3.sqlite_version} from {module}.")
    with connection.cursor() as cursor:
        said = {}
        for name in ("journal_mode", "synchronous", "foreign_keys"):
            cursor.execute(f"PRAGMA {name}")
            said[name] = str(cursor.fetchone()[0])
    if said["journal_mode"] == "wal" and build() < SAFE_FOR_WAL:
        yield _fault("This build of SQLite may damage a database in WAL mode.")
    if int(said["synchronous"]) < 2:
        yield _fault("SQLite may lose acknowledged work: synchronous is not FULL.")
    if said["foreign_keys"] != "1":
        yield _fault("SQLite does not enforce foreign keys.")
    yield _fine(f"It writes in {said['journal_mode'].upper()} mode, in full sync.")


def _studio() -> Iterator[Finding]:
    profile = StudioProfile.load()
    if profile.is_demo:
        yield _fine("This is the demo: an invented studio.")
    if profile.set_up_at is None:
        yield _caution("The studio is not set up yet: sign in as its owner.")
    elif not profile.public_address:
        yield _caution("No public address: letters carry PDFs, and no private links.")


def _mail(at: datetime) -> Iterator[Finding]:
    if not settings.EMAIL_HOST:
        yield _caution(
            f"No mail server (SMTP_HOST): letters go into {settings.EMAIL_FILE_PATH}."
        )
    else:
        yield _fine(f"Letters go out by {settings.EMAIL_HOST}:{settings.EMAIL_PORT}.")
    overdue = Message.objects.waiting(at=at - LONG_WAIT).count()
    if overdue:
        yield _fault(
            "Letters that have waited for more than ten minutes: "
            f"{overdue}. Does the background work run?"
        )
    trouble = Message.objects.in_trouble().count()
    if trouble:
        yield _caution(f"Letters that need a decision: {trouble}. See Mail.")


def _copies(at: datetime) -> Iterator[Finding]:
    profile = StudioProfile.load()
    folder, last = folder_of(profile), profile.backed_up_at
    if folder is None:
        yield _caution("Nightly copies have no folder: see Back up.")
    elif not folder.is_dir():
        yield _fault(f"The folder for nightly copies is not there: {folder}")
    if last is None:
        yield _caution("No copy has been made yet.")
    elif at - last > OLD_COPY:
        yield _caution(f"The last copy is {(at - last).days} days old.")
    else:
        yield _fine(f"The last copy was made at {last:%Y-%m-%d %H:%M} UTC.")


def _clock(at: datetime) -> Iterator[Finding]:
    latest = JournalEntry.objects.order_by("-at").first()
    if latest and latest.at > at + CLOCK_SLACK:
        yield _fault(
            f"The journal's latest entry is of {latest.at:%Y-%m-%d %H:%M} UTC, still "
            "to come: check this machine's clock."
        )


def _broker() -> Iterator[Finding]:
    if not settings.REDIS_URL:
        yield _fine("Background work runs in the child process of `start`.")
        return
    if fault := broker_fault():
        yield _fault(f"The broker does not answer: {fault}")
    else:
        yield _fine("The broker answers.")


def _server() -> Iterator[Finding]:
    if not SERVER:
        return
    for message in run_checks(include_deployment_checks=True):
        yield _fault(f"{message.msg} ({message.id})")
