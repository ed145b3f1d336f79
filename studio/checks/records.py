"""The foundation's own records: journal, stored files, messages, the database."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from typing import Final

from django.db import connection
from django.db.models import Count

from studio.checks import verifies
from studio.files.models import StoredFile
from studio.finding.mending import faults
from studio.guards import EXPECTED
from studio.history.operations import broken_links
from studio.mail.models import Message

MADE: Final = re.compile(r"(?:CREATE TRIGGER|ADD CONSTRAINT) (\w+)")

verifies("the journal's chain")(broken_links)
verifies("words of the search box")(faults)


@verifies("stored files")
def changed_files() -> Iterator[str]:
    """Yield a sentence for each stored file whose bytes are not those taken in."""
    for file in StoredFile.objects.order_by("pk").iterator(chunk_size=20):
        content = bytes(file.content)
        if len(content) != file.size:
            yield f"Stored file {file.pk} ({file.name}) has lost or gained bytes."
        elif hashlib.sha256(content).hexdigest() != file.sha256:
            yield f"Stored file {file.pk} ({file.name}) was changed."


@verifies("the outbox")
def odd_messages() -> Iterator[str]:
    """Yield a sentence for each Message-ID that more than one message carries."""
    twice = Message.objects.order_by().values("message_id").annotate(count=Count("pk"))
    for row in twice.filter(count__gt=1):
        yield f"{row['count']} messages carry the Message-ID {row['message_id']}."


@verifies("the database's guards")
def missing_guards() -> Iterator[str]:
    """Yield a sentence for each trigger or constraint of ours that is not there."""
    present = _names_in_database()
    for guard in EXPECTED.values():
        statements = guard.sqlite if connection.vendor == "sqlite" else guard.postgres
        for name in MADE.findall(" ".join(statements)):
            if name not in present:
                yield f"{guard.table} is not guarded: {name} is missing."


@verifies("the database itself")
def damage() -> Iterator[str]:
    """Yield what SQLite's own checks find; PostgreSQL has tools of its own."""
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check(20)")
        yield from (str(found) for (found,) in cursor.fetchall() if found != "ok")
        cursor.execute("PRAGMA foreign_key_check")
        for table, row, parent, _ in cursor.fetchall():
            yield f"Row {row} of {table} points at a row of {parent} that is gone."


def _names_in_database() -> set[str]:
    if connection.vendor == "sqlite":
        query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    else:
        query = (  # a trigger may also be there and switched off
            "SELECT tgname FROM pg_trigger WHERE tgenabled <> 'D' "
            "UNION SELECT conname FROM pg_constraint"
        )
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {str(name) for (name,) in cursor.fetchall()}
