"""Writing the journal, and walking its chain."""

import hashlib
import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, Final

from django.db import models, transaction

from studio.history.models import ActorKind, ChainHead, JournalEntry
from studio.people.models import Person

JOURNAL: Final = "journal"


def take_chain(name: str) -> ChainHead:
    """Lock a chain's head until the transaction ends, and return it."""
    heads = ChainHead.objects.select_for_update().filter(name=name)
    if head := heads.first():
        return head
    ChainHead.objects.get_or_create(name=name)
    return heads.get()


def link_hash(previous_hash: str, content: Mapping[str, Any]) -> str:
    """Return the SHA-256 that chains `content` to what came before it."""
    written = json.dumps(content, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(f"{previous_hash}\n{written}".encode()).hexdigest()


def record(
    row: models.Model,
    verb: str,
    *,
    by: Person | None,
    at: datetime,
    kind: ActorKind | None = None,
    data: Mapping[str, Any] | None = None,
) -> JournalEntry:
    """Write one journal entry, inside the operation's own transaction."""
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("the journal is written inside the operation's transaction")
    head = take_chain(JOURNAL)
    entry = JournalEntry(
        sequence=head.sequence + 1,
        at=at,
        by=by,
        actor_kind=kind or (ActorKind.PERSON if by else ActorKind.TOOL),
        verb=verb,
        object_type=row._meta.label_lower,
        object_id=row.pk,
        data=dict(data or {}),
        previous_hash=head.hash,
    )
    entry.hash = link_hash(head.hash, content_of(entry))
    entry.save(force_insert=True)
    head.sequence, head.hash = entry.sequence, entry.hash
    head.save()
    return entry


def content_of(entry: JournalEntry) -> dict[str, Any]:
    """Return what an entry's hash covers."""
    return {
        "sequence": entry.sequence,
        "at": entry.at.astimezone(UTC).isoformat(),
        "by": entry.by_id,
        "kind": str(entry.actor_kind),
        "verb": entry.verb,
        "type": entry.object_type,
        "id": entry.object_id,
        "data": json.loads(json.dumps(entry.data, default=str)),
    }


def broken_links() -> list[str]:
    """Return a sentence for each place where the journal's chain does not hold."""
    faults: list[str] = []
    sequence, previous_hash = 0, "0" * 64
    for entry in JournalEntry.objects.order_by("sequence").iterator():
        if entry.sequence != sequence + 1:
            faults.append(f"Journal entry {sequence + 1} is missing.")
        if entry.previous_hash != previous_hash:
            faults.append(f"Journal entry {entry.sequence} does not follow the last.")
        if entry.hash != link_hash(entry.previous_hash, content_of(entry)):
            faults.append(f"Journal entry {entry.sequence} was changed.")
        sequence, previous_hash = entry.sequence, entry.hash
    head = ChainHead.objects.filter(name=JOURNAL).first()
    if head and (head.sequence, head.hash) != (sequence, previous_hash):
        faults.append("The journal's last entries are missing.")
    return faults
