from datetime import timedelta

import pytest
from django.db import DatabaseError, connection, transaction

from studio.history.models import ActorKind, ChainHead, JournalEntry
from studio.history.operations import broken_links, record
from tests.make import NOON, make_client, make_person
from tests.unguarded import unguarded

pytestmark = pytest.mark.django_db
TABLE = "studio_journalentry"


def write(times: int = 3) -> None:
    client, ada = make_client(), make_person()
    for n in range(times):
        at = NOON + timedelta(minutes=n)
        record(client, "touched", by=ada, at=at, data={"n": n})


def test_entries_follow_one_another_without_a_gap() -> None:
    write()

    rows = list(JournalEntry.objects.order_by("sequence"))
    assert [row.sequence for row in rows] == [1, 2, 3]
    assert [row.previous_hash for row in rows[1:]] == [row.hash for row in rows[:2]]
    assert broken_links() == []


def test_nobody_signed_in_is_the_tool_unless_it_was_a_client() -> None:
    client = make_client()

    tool = record(client, "swept", by=None, at=NOON)
    guest = record(client, "asked", by=None, at=NOON, kind=ActorKind.CLIENT)

    assert (tool.actor_kind, guest.actor_kind) == (ActorKind.TOOL, ActorKind.CLIENT)


@pytest.mark.parametrize("statement", ["UPDATE {} SET verb = 'x'", "DELETE FROM {}"])
def test_the_database_refuses_to_change_an_entry(statement: str) -> None:
    write()

    with (
        pytest.raises(DatabaseError, match="only added to"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement.format(TABLE))


def test_a_change_behind_the_guard_is_found() -> None:
    write()
    with unguarded(TABLE):
        JournalEntry.objects.filter(sequence=2).update(verb="forged")

    assert broken_links() == ["Journal entry 2 was changed."]


def test_a_missing_entry_and_missing_last_entries_are_found() -> None:
    write(4)
    with unguarded(TABLE):
        JournalEntry.objects.filter(sequence=2)._raw_delete("default")
        JournalEntry.objects.filter(sequence=4)._raw_delete("default")

    said = " ".join(broken_links())
    assert "Journal entry 2 is missing." in said
    assert "last entries are missing" in said


def test_the_chain_cannot_be_written_outside_a_transaction(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    client = make_client()
    monkeypatch.setattr(connection, "in_atomic_block", False)

    with pytest.raises(RuntimeError, match="transaction"):
        record(client, "touched", by=None, at=NOON)

    assert not ChainHead.objects.exists()
