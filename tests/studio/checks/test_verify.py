import pytest
from django.core.management import CommandError, call_command

from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.history.models import JournalEntry
from studio.mail.models import Message
from tests.make import NOON, make_job
from tests.make_mail import make_message
from tests.unguarded import unguarded
from tests.world import assert_world, faults

pytestmark = pytest.mark.django_db


def test_an_honest_studio_is_in_order(capsys: pytest.CaptureFixture[str]) -> None:
    make_job()
    make_message()
    store_file(name="a.pdf", content_type="application/pdf", content=b"%PDF", at=NOON)

    call_command("verify")

    assert "Everything is in order" in capsys.readouterr().out
    assert_world()


def test_a_changed_journal_is_found() -> None:
    job = make_job()
    with unguarded("studio_journalentry"):
        JournalEntry.objects.filter(object_id=job.pk).update(verb="never happened")

    assert faults()["the journal's chain"] == ("Journal entry 1 was changed.",)
    with pytest.raises(CommandError, match="Faults found"):
        call_command("verify", verbosity=0)


def test_an_entry_that_was_taken_out_is_found() -> None:
    for _ in range(3):
        make_job()
    with unguarded("studio_journalentry"):
        JournalEntry.objects.filter(sequence=2).delete()

    found = faults()["the journal's chain"]

    assert "Journal entry 2 is missing." in found


def test_a_journal_that_was_cut_off_is_found() -> None:
    for _ in range(2):
        make_job()
    with unguarded("studio_journalentry"):
        JournalEntry.objects.filter(sequence=2).delete()

    assert faults()["the journal's chain"] == (
        "The journal's last entries are missing.",
    )


def test_changed_bytes_of_a_file_are_found() -> None:
    file = store_file(name="a.pdf", content_type="x/y", content=b"1234", at=NOON)
    with unguarded("studio_storedfile"):
        StoredFile.objects.filter(pk=file.pk).update(content=b"1235")

    assert faults()["stored files"] == (f"Stored file {file.pk} (a.pdf) was changed.",)


def test_a_guard_that_is_gone_is_found() -> None:
    with unguarded("studio_journalentry"):
        pass

    found = faults()["the database's guards"]

    assert all("studio_journalentry is not guarded" in one for one in found)


def test_two_messages_of_one_message_id_are_found() -> None:
    first, second = make_message(), make_message()
    Message.objects.filter(pk=second.pk).update(message_id=first.message_id)

    assert "the outbox" in faults()
