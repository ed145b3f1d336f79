"""Sessions sent by mail; what stands in the mail is read by others' readers."""

from datetime import timedelta
from email import message_from_bytes
from email.message import Message as Mime
from email.policy import default

import pytest
import vobject
from django.test import Client as Browser
from icalendar import Calendar

from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import (
    BookingWish,
    cancel_booking,
    change_booking,
    confirm_booking,
    list_attendees,
)
from jobs.calendars.events import Guest
from jobs.calendars.invitations import (
    NothingToInviteError,
    Round,
    guest_rows,
    send_round,
    stale_invitations,
)
from jobs.calendars.models import Invitation
from studio.history.models import JournalEntry
from studio.mail.letters import write_out
from studio.mail.models import Message
from studio.panels import today_items
from studio.people.models import Person
from studio.people.policy import Hat
from tests.jobs.calendars.readers import meanings
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

ORLA = Guest(name="Orla Finch", address="orla@finch.example")


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person(email="ada@vane.example")


@pytest.fixture
def booking(ada: Person) -> Booking:
    job = make_job(
        "Finch portraits", client=make_client(ORLA.name, email=ORLA.address), by=ada
    )
    made = make_booking(job=job, people=(ada,))
    return confirm_booking(booking_id=made.pk, by=ada, at=NOON)


def invite(booking: Booking, *guests: Guest, words: str = "") -> list[Invitation]:
    sent = Round(guests=guests, words=words)
    return send_round(booking_id=booking.pk, sent=sent, by=booking.job.owner, at=NOON)


def move(booking: Booking) -> None:
    wish = BookingWish(
        place=booking.place,
        starts_at=booking.starts_at + timedelta(days=1),
        ends_at=booking.ends_at + timedelta(days=1),
    )
    change_booking(booking_id=booking.pk, wish=wish, by=booking.job.owner, at=NOON)


def letter_of(message: Message) -> Mime:
    raw = write_out(message).message().as_bytes()
    assert raw == write_out(message).message().as_bytes()  # the same bytes each time
    return message_from_bytes(raw, policy=default)


def calendar_in(letter: Mime) -> tuple[str, bytes]:
    """Return method and bytes of the calendar in a letter."""
    (part,) = [
        one for one in letter.walk() if one.get_content_type() == "text/calendar"
    ]
    content = part.get_payload(decode=True)
    assert isinstance(content, bytes)
    return str(part.get_param("method")), content


def test_an_invitation_is_a_letter_that_mail_programs_understand(
    booking: Booking,
) -> None:
    invite(booking, ORLA, words="We meet at the gate.")

    message = Message.objects.get()
    letter = letter_of(message)
    # RFC 6047, 2.4: text/calendar with the method that stands in the calendar too;
    # beside the plain text as another form of it.
    assert letter.get_content_type() == "multipart/alternative"
    kinds = [part.get_content_type() for part in letter.walk()]
    assert kinds == ["multipart/alternative", "text/plain", "text/calendar"]
    method, content = calendar_in(letter)
    calendar = Calendar.from_ical(content)
    event = vobject.readOne(content.decode()).vevent
    assert method == str(calendar["METHOD"]) == "REQUEST"
    assert event.organizer.value == "mailto:ada@vane.example"
    assert event.attendee.value == "mailto:orla@finch.example"
    assert event.attendee.params["PARTSTAT"] == ["NEEDS-ACTION"]
    (meant,) = meanings(content)
    assert meant.uid == str(booking.uid)
    assert (meant.starts_at, meant.ends_at) == (booking.starts_at, booking.ends_at)
    assert (meant.status, meant.sequence) == ("CONFIRMED", 0)
    assert "We meet at the gate." in message.body
    assert message.subject.startswith("Finch portraits, Vane Portraits: Wed 1 Jul")


def test_a_change_goes_out_under_the_same_name_and_a_higher_number(
    booking: Booking,
) -> None:
    invite(booking, ORLA)
    move(booking)

    (again,) = invite(booking, ORLA)

    latest = Message.objects.first()
    assert latest is not None
    assert latest.subject.startswith("Changed: ")
    (meant,) = meanings(calendar_in(letter_of(latest))[1])
    assert (meant.uid, meant.sequence, again.sequence) == (str(booking.uid), 1, 1)
    assert meant.starts_at == booking.starts_at + timedelta(days=1)


def test_who_has_it_as_it_stands_gets_no_second_letter(booking: Booking) -> None:
    invite(booking, ORLA)

    assert invite(booking, Guest(name="Orla", address="ORLA@finch.example")) == []
    assert Message.objects.count() == 1
    verbs = JournalEntry.objects.filter(verb="invited")
    assert verbs.count() == 1


def test_a_session_called_off_is_taken_back(booking: Booking) -> None:
    invite(booking, ORLA)
    cancel_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)

    back = Round(withdrawn=(ORLA.address,), words="I am sorry.")
    send_round(booking_id=booking.pk, sent=back, by=booking.job.owner, at=NOON)

    latest = Message.objects.first()
    assert latest is not None
    method, content = calendar_in(letter_of(latest))
    (meant,) = meanings(content)
    assert (method, meant.status, meant.sequence) == ("CANCEL", "CANCELLED", 1)
    assert latest.subject.startswith("Called off: ")
    assert list(stale_invitations(NOON)) == []


def test_nobody_is_invited_to_what_is_not_held(ada: Person) -> None:
    proposed = make_booking(job=make_job(by=ada))

    with pytest.raises(NothingToInviteError):
        invite(proposed, ORLA)
    assert not Message.objects.exists()


def test_each_guest_sees_no_other(booking: Booking) -> None:
    invite(booking, ORLA, Guest(name="Piers", address="piers@x.example"))

    for message in Message.objects.all():
        text = letter_of(message).as_string()
        others = {"orla@finch.example", "piers@x.example"} - {message.address}
        assert not any(other in text for other in others)


def test_everybody_who_comes_may_be_asked_once_each(booking: Booking) -> None:
    ada = booking.job.owner
    attendees = [
        Attendee(name="Orla", email="Orla@Finch.example", part=Part.CLIENT),
        Attendee(name="Piers", email="piers@x.example"),
        Attendee(name="Keeper", email="gate@x.example", part=Part.PLACE),
        Attendee(name="Nobody"),
    ]
    list_attendees(booking_id=booking.pk, attendees=attendees, by=ada, at=NOON)

    rows = guest_rows(booking)

    assert [row.guest.name for row in rows] == ["Orla Finch", "Piers", "Ada Vane"]


def test_the_page_sends_and_today_asks_for_the_change(
    client: Browser, ada: Person, booking: Booking
) -> None:
    client.force_login(ada)
    path = f"/bookings/{booking.pk}/invite/"
    assert "orla@finch.example" in client.get(path).content.decode()
    assert "Choose somebody." in client.post(path, {}).content.decode()

    client.post(path, {"to": [ORLA.address], "words": "Until soon."})
    move(booking)

    (item,) = [
        one for one in today_items(ada, NOON, [Hat.PLANNER]) if "Tell " in one.title
    ]
    assert item.title == "Tell Orla Finch that Finch portraits changed"
    assert (
        "Has it as it was before"
        in client.get(booking.job.get_absolute_url()).content.decode()
    )
    both = client.post(path, {"to": [ORLA.address], "back": [ORLA.address]})
    assert "not both" in both.content.decode()
    client.post(path, {"back": [ORLA.address]})
    assert Invitation.objects.get().withdrawn_at == NOON
    stranger = client.post(path, {"to": ["stranger@x.example"]})
    assert stranger.status_code == 200
    assert Message.objects.count() == 2


def test_names_with_quotes_and_breaks_stay_in_their_place(booking: Booking) -> None:
    ugly = Guest(name='Orla "O" \\ Finch;\nX:y', address="orla@finch.example")

    invite(booking, ugly)

    _, content = calendar_in(letter_of(Message.objects.get()))
    event = vobject.readOne(content.decode()).vevent
    assert event.attendee.value == "mailto:orla@finch.example"
    assert set(event.contents) >= {"uid", "dtstart", "attendee"}
    assert "x" not in event.contents
