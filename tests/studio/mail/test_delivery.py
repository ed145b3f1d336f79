from datetime import timedelta
from email import message_from_bytes
from typing import Any

import pytest
from django.core.mail import EmailMessage

from studio.files.operations import store_file
from studio.history.models import JournalEntry
from studio.links.models import LinkPurpose
from studio.links.operations import make_link, revoke_links, token_of
from studio.mail import delivery, tasks
from studio.mail.delivery import Outcome, PostOffice, deliver, release_lapsed
from studio.mail.letters import write_out
from studio.mail.models import CLAIM_LASTS, Message
from studio.mail.operations import note_arrival, send_again
from studio.mail.states import MessageMoveError, MessageState
from studio.mail.tasks import send_waiting_mail
from tests.make import NOON, make_person, make_profile
from tests.make_mail import make_message
from tests.studio.mail.bad_server import mail_server, speak_to

pytestmark = pytest.mark.django_db


def send(message: Message, at: Any = NOON) -> Message:
    with PostOffice() as office:
        deliver(message_id=message.pk, office=office, at=at)
    message.refresh_from_db()
    return message


def test_a_waiting_message_is_sent_once(settings: Any) -> None:
    make_profile()
    message = make_message()
    with mail_server() as sink:
        speak_to(sink, settings)
        send(message)
        send(message)

    assert (message.state, message.sent_at) == (MessageState.SENT, NOON)
    assert len(sink.taken) == 1
    entry = JournalEntry.objects.get(object_type="studio.message")
    assert (entry.verb, entry.object_id) == ("sent", message.pk)


def test_what_goes_out_names_the_studio_and_the_reader(settings: Any) -> None:
    make_profile()
    message = make_message(recipient_name="Ömer Işık, Bakery", subject="Grüße")
    with mail_server() as sink:
        speak_to(sink, settings)
        send(message)

    letter = message_from_bytes(sink.taken[0])
    assert letter["Message-ID"] == message.message_id
    assert letter["From"].startswith("Vane Portraits <")
    assert letter["Reply-To"] == "ada@vane.example"
    assert letter["Date"] == "Sun, 21 Jun 2026 12:00:00 +0000"


def test_a_second_attempt_sends_the_same_bytes(settings: Any) -> None:
    make_profile()
    paper = store_file(
        name="quote.pdf", content_type="application/pdf", content=b"%PDF-1", at=NOON
    )
    link = make_link(purpose=LinkPurpose.CALL_SHEET, object_id=1, at=NOON)
    message = make_message(body="See {link}\n", files=[paper], link=link)
    with mail_server("451 for the text") as sink:
        speak_to(sink, settings)
        send(message)
        assert message.state == MessageState.WAITING
        sink.mode = "drop after the text"
        later = NOON + timedelta(hours=1)
        send(message, later)
        assert message.state == MessageState.UNKNOWN
        sink.mode = "ok"
        send_again(message_id=message.pk, by=make_person(), at=later)
        send(message, later)

    first, second = sink.taken
    assert first == second
    assert f"https://studio.example/p/call-sheet/{token_of(link)}/".encode() in first
    assert b"quote.pdf" in first


def test_the_row_never_holds_what_opens_the_page(settings: Any) -> None:
    make_profile()
    link = make_link(purpose=LinkPurpose.QUOTE, object_id=1, at=NOON)
    message = send(make_message(body="See {link}\n", link=link))

    assert token_of(link) not in str(Message.objects.filter(pk=message.pk).values())


@pytest.mark.parametrize(
    ("mode", "state"),
    [
        ("451 for the text", MessageState.WAITING),
        ("550 for the reader", MessageState.FAILED),
        ("hang up at once", MessageState.WAITING),
        ("never greet", MessageState.WAITING),
        ("noise", MessageState.WAITING),
        ("drop before the text", MessageState.WAITING),
        ("drop after the text", MessageState.UNKNOWN),
        ("never answer the text", MessageState.UNKNOWN),
    ],
)
def test_a_bad_server_leaves_a_message_in_the_state_that_is_true(
    mode: str, state: MessageState, settings: Any
) -> None:
    make_profile()
    message = make_message()
    with mail_server(mode) as sink:
        speak_to(sink, settings)
        send(message)

    assert message.state == state
    assert message.fault
    if state == MessageState.WAITING:
        assert message.not_before == NOON + timedelta(minutes=1)


def test_a_refused_connection_waits_longer_each_time(settings: Any) -> None:
    make_profile()
    message = make_message()
    with mail_server() as sink:
        pass
    speak_to(sink, settings)

    waits, at = [], NOON
    for _ in range(6):
        send(message, at)
        waits.append(int((message.not_before - at).total_seconds() // 60))
        at = message.not_before

    assert waits == [1, 5, 15, 60, 240, 240]


def test_a_sweep_does_not_try_every_message_at_a_dead_server(settings: Any) -> None:
    make_profile()
    messages = [make_message() for _ in range(3)]
    with mail_server("never greet") as sink:
        speak_to(sink, settings)
        send_waiting_mail()

    assert sink.connections == 1
    tried = Message.objects.filter(pk__in=[one.pk for one in messages], attempts=1)
    assert tried.count() == 1


def test_a_message_waits_for_its_documents(settings: Any) -> None:
    make_profile()
    message = make_message(documents_wanted=1)

    send_waiting_mail()

    message.refresh_from_db()
    assert message.state == MessageState.WAITING


def test_a_claim_that_lapses_before_the_server_was_spoken_to_waits_again() -> None:
    make_profile()
    message = make_message()
    assert Message.objects.claim(message.pk, at=NOON)

    assert release_lapsed(at=NOON + CLAIM_LASTS) == 0
    assert release_lapsed(at=NOON + 2 * CLAIM_LASTS) == 1

    message.refresh_from_db()
    assert message.state == MessageState.WAITING


def test_a_claim_that_lapses_after_that_is_left_to_the_owner() -> None:
    make_profile()
    message = make_message()
    assert Message.objects.claim(message.pk, at=NOON)
    Message.objects.filter(pk=message.pk).update(spoken_at=NOON)

    release_lapsed(at=NOON + 2 * CLAIM_LASTS)
    send_waiting_mail()

    message.refresh_from_db()
    assert message.state == MessageState.UNKNOWN
    assert message.fault == "May have been sent at 13:00."
    note_arrival(message_id=message.pk, by=make_person(), at=NOON)
    message.refresh_from_db()
    assert (message.state, message.sent_at) == (MessageState.SENT, NOON)


def test_a_sent_message_is_not_sent_again() -> None:
    make_profile()
    message = send(make_message())

    with pytest.raises(MessageMoveError, match="cannot become waiting"):
        send_again(message_id=message.pk, by=make_person(), at=NOON)


def test_a_link_that_was_taken_back_does_not_go_out() -> None:
    make_profile()
    link = make_link(purpose=LinkPurpose.QUOTE, object_id=7, at=NOON)
    message = make_message(body="See {link}", link=link)
    revoke_links(purpose=LinkPurpose.QUOTE, object_id=7, at=NOON, replaced=True)

    send(message)

    assert message.state == MessageState.FAILED
    assert "taken back" in message.fault


def test_a_link_of_another_secret_key_does_not_go_out(settings: Any) -> None:
    make_profile()
    link = make_link(purpose=LinkPurpose.QUOTE, object_id=7, at=NOON)
    message = make_message(body="See {link}", link=link)
    settings.SECRET_KEY = "another key, as on a machine that a copy was restored on"

    send(message)

    assert message.state == MessageState.FAILED


def test_a_name_cannot_add_headers() -> None:
    make_profile()
    message = make_message(recipient_name="Eve\r\nBcc: all@example.org")

    email = write_out(message)

    written = message_from_bytes(email.message().as_bytes())
    assert written["Bcc"] is None
    assert email.recipients() == [email.to[0]]


def test_one_process_alone_sends_a_claimed_message(settings: Any) -> None:
    make_profile()
    message = make_message()
    Message.objects.claim(message.pk, at=NOON)
    with PostOffice() as office:
        outcome: Outcome | None = deliver(message_id=message.pk, office=office, at=NOON)

    assert outcome is None


def test_a_domain_outside_ascii_is_written_as_mail_servers_know_it(
    settings: Any,
) -> None:
    make_profile()
    message = make_message(address="info@bücher.example", recipient_name="Ömer")
    with mail_server() as sink:
        speak_to(sink, settings)
        send(message)

    # The A-label of "bücher" (RFC 5891), from memory.
    assert message.state == MessageState.SENT
    assert b"<info@xn--bcher-kva.example>" in sink.taken[0]


@pytest.mark.parametrize("address", ["", "bücher@example.org", "a@x..example"])
def test_an_address_that_no_server_takes_is_refused_with_a_reason(
    address: str, settings: Any
) -> None:
    make_profile()
    message = make_message(address=address, recipient_name="")
    with mail_server() as sink:
        speak_to(sink, settings)
        send(message)

    assert (message.state, sink.taken) == (MessageState.FAILED, [])
    assert message.fault


def test_a_process_that_wakes_after_its_claim_lapsed_sends_no_second_copy(
    settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_profile()
    message, later = make_message(), NOON + 2 * CLAIM_LASTS

    def sleep_long(row: Message) -> EmailMessage:
        monkeypatch.setattr(delivery, "write_out", write_out)
        release_lapsed(at=later)
        send(message, later)
        return write_out(row)

    monkeypatch.setattr(delivery, "write_out", sleep_long)
    with mail_server() as sink:
        speak_to(sink, settings)
        send(message)

    assert len(sink.taken) == 1
    assert (message.state, message.sent_at) == (MessageState.SENT, later)


def test_a_sweep_leaves_the_rest_to_the_next_round_when_time_is_up(
    settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_profile()
    for _ in range(3):
        make_message()
    monkeypatch.setattr(tasks, "SWEEP_S", 0.0)
    with mail_server() as sink:
        speak_to(sink, settings)
        send_waiting_mail()
        assert len(sink.taken) == 1
        send_waiting_mail()

    assert len(sink.taken) == 2
