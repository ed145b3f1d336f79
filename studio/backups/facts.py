"""What a copy says of the database that it was taken from."""

from __future__ import annotations

import sqlite3
from datetime import datetime
from importlib.metadata import version
from typing import Final

from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from studio.backups.archive import Facts
from studio.history.models import ChainHead
from studio.history.operations import JOURNAL
from studio.used import has_tables

PACKAGES: Final = ("django", "celery", "reportlab")
OURS: Final = {"studio", "jobs", "planning", "invoicing"}


def facts_of_database(at: datetime) -> Facts:
    """Return the facts of this database as it is now."""
    head = ChainHead.objects.filter(name=JOURNAL).first() if has_tables() else None
    applied = MigrationRecorder(connection).applied_migrations()
    versions = {name: version(name) for name in PACKAGES}
    if connection.vendor == "sqlite":
        versions["database"] = sqlite3.sqlite_version
    else:
        versions["database"] = _postgres_version()
    return Facts(
        made_at=at.isoformat(),
        engine=connection.vendor,
        versions=versions,
        migrations=sorted([app, name] for app, name in applied),
        journal_sequence=head.sequence if head else 0,
        journal_hash=head.hash if head else "",
    )


def migrations_wait() -> bool:
    """Say whether the database is older than this program."""
    applied = set(MigrationRecorder(connection).applied_migrations())
    return bool(set(MigrationLoader(None).disk_migrations) - applied)


def unknown_migrations(facts: Facts) -> list[str]:
    """Return the migrations of ours that a copy had and this program does not know."""
    known = set(MigrationLoader(None, ignore_no_migrations=True).disk_migrations)
    return [
        name
        for app, name in facts.migrations
        if app in OURS and (app, name) not in known
    ]


def _postgres_version() -> str:
    with connection.cursor() as cursor:
        cursor.execute("SHOW server_version")
        return str(cursor.fetchone()[0])
