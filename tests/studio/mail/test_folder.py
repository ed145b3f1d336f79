from email import message_from_bytes
from pathlib import Path
from typing import Any

import pytest

from studio.files.operations import store_file
from studio.mail.delivery import PostOffice, deliver
from studio.mail.models import Message
from studio.mail.operations import send_again
from studio.mail.states import MessageState
from tests.make import NOON, make_person, make_profile
from tests.make_mail import make_message

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(tmp_path: Path, settings: Any) -> Path:
    settings.EMAIL_BACKEND = "studio.mail.folder.FolderBackend"
    settings.EMAIL_FILE_PATH = tmp_path / "mail"
    make_profile()
    return tmp_path / "mail"


def send(*messages: Message) -> None:
    with PostOffice() as office:
        for message in messages:
            deliver(message_id=message.pk, office=office, at=NOON)
            message.refresh_from_db()


def test_each_letter_is_a_file_of_its_own(folder: Path) -> None:
    paper = store_file(
        name="quote.pdf", content_type="application/pdf", content=b"%PDF-1", at=NOON
    )
    letters = [make_message(subject="Grüße", files=[paper]), make_message()]

    send(*letters)

    assert [one.state for one in letters] == [MessageState.SENT] * 2
    files = sorted(folder.iterdir())
    assert [one.suffix for one in files] == [".eml", ".eml"]
    assert all(one.name.startswith("2026-06-21-120000-") for one in files)
    assert all(one.stat().st_mode & 0o777 == 0o600 for one in files)
    written = {message_from_bytes(one.read_bytes())["Message-ID"] for one in files}
    assert written == {one.message_id for one in letters}
    assert any(b"quote.pdf" in one.read_bytes() for one in files)


def test_a_letter_that_is_written_twice_is_there_once(folder: Path) -> None:
    letter = make_message()
    send(letter)
    Message.objects.filter(pk=letter.pk).update(state=MessageState.UNKNOWN)

    send_again(message_id=letter.pk, by=make_person(), at=NOON)
    send(letter)

    assert len(list(folder.iterdir())) == 1


def test_a_folder_that_cannot_be_written_lets_the_letter_wait(folder: Path) -> None:
    folder.write_text("a file stands where the folder should")
    letter = make_message()

    send(letter)

    assert letter.state == MessageState.WAITING
    assert letter.fault
