"""Making versions, and sending the right paper to the right people once."""

from datetime import UTC, datetime, timedelta

import pytest

from jobs.attending.models import Need
from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import cancel_booking
from jobs.releases.models import Sitter
from planning.callsheets.gaps import missing
from planning.callsheets.models import CallSheet
from planning.callsheets.operations import CallSheetError, make_call_sheet
from planning.callsheets.queries import last_call_sheet, standing_of
from planning.callsheets.receivers import deliveries_of
from planning.callsheets.sending import GapsError, send_call_sheet
from planning.shoots.models import SetUp
from planning.weather.operations import note_weather
from studio.history.models import JournalEntry
from studio.history.operations import broken_links
from studio.mail.models import Message
from studio.people.models import Person
from tests.make import make_booking, make_profile
from tests.make_planning import make_shoot
from tests.planning.reading import words

pytestmark = pytest.mark.django_db
MADE_AT = datetime(2027, 10, 12, 9, 12, tzinfo=UTC)
LATER = MADE_AT + timedelta(hours=5)


def make(booking: Booking, at: datetime = MADE_AT) -> CallSheet:
    return make_call_sheet(booking_id=booking.pk, by=booking.job.owner, at=at)


def send(sheet: CallSheet, at: datetime = MADE_AT) -> CallSheet:
    owner = sheet.booking.job.owner
    return send_call_sheet(call_sheet_id=sheet.pk, by=owner, at=at, despite_gaps=True)


def papers() -> dict[str, str]:
    return {
        message.address: " ".join(file.name for file in message.files.all())
        for message in Message.objects.all()
    }


def test_both_papers_are_kept_with_the_version() -> None:
    made = make(make_shoot())
    assert made.version == 1
    assert made.sheet.name == "call-sheet-J-2026-001-v1.pdf"
    assert made.session_page.name == "your-session-J-2026-001-v1.pdf"
    assert "version 1" in words(bytes(made.sheet.content))
    assert "Your session" in words(bytes(made.session_page.content))


def test_a_version_that_still_holds_is_not_made_again() -> None:
    booking = make_shoot()
    first = make(booking)
    assert make(booking, LATER).pk == first.pk
    SetUp.objects.filter(name="Bow portraits").update(minutes=20)
    second = make(booking, LATER)
    assert second.version == 2
    assert last_call_sheet(booking) == second


def test_ticking_kit_off_makes_no_new_version() -> None:
    booking = make_shoot()
    made = make(booking)
    item = booking.checklist.order_by("pk").first()
    assert item is not None
    item.ticked_at, item.ticked_by = MADE_AT, booking.job.owner
    item.save()
    assert standing_of(booking, LATER).is_current
    assert make(booking, LATER) == made


def test_a_made_version_is_never_rewritten() -> None:
    made = make(make_shoot())
    made.content_hash = "0" * 64
    with pytest.raises(Exception, match="never rewritten"):
        made.save()


def test_crew_and_client_each_get_their_own_paper() -> None:
    booking = make_shoot()
    Attendee.objects.create(
        booking=booking, name="Kit Lamb", part=Part.CREW, email="kit@crew.example"
    )
    send(make(booking))
    assert papers() == {
        "ada@vane.example": "call-sheet-J-2026-001-v1.pdf",
        "bram@vane.example": "call-sheet-J-2026-001-v1.pdf",
        "kit@crew.example": "call-sheet-J-2026-001-v1.pdf",
        "ines@quartet.example": "your-session-J-2026-001-v1.pdf",
        "jo@quartet.example": "your-session-J-2026-001-v1.pdf",
    }


def test_the_letters_to_clients_name_nobodys_number_but_the_studios() -> None:
    send(make(make_shoot()))
    letter = Message.objects.get(address="ines@quartet.example").body
    assert "01632 960001" in letter
    assert "960101" not in letter
    assert "keep it to the crew" in Message.objects.get(address="ada@vane.example").body


def test_sent_twice_it_goes_out_once() -> None:
    sheet = make(make_shoot())
    send(sheet)
    send(sheet, LATER)
    assert Message.objects.count() == 4


def test_somebody_added_later_gets_what_the_others_have() -> None:
    booking = make_shoot()
    sheet = make(booking)
    send(sheet)
    who = Attendee.objects.get(name="Four players")
    who.email = "players@quartet.example"
    who.save()
    states = {d.recipient.address: d.state for d in deliveries_of(booking, sheet)}
    assert states["players@quartet.example"] == ""
    assert states["ada@vane.example"] == "Waiting"
    send(sheet, LATER)
    assert Message.objects.count() == 5


def test_an_address_of_the_crew_gets_the_crews_paper_only() -> None:
    booking = make_shoot()
    Attendee.objects.create(
        booking=booking, name="Ada again", part=Part.SITTER, email="ADA@vane.example"
    )
    send(make(booking))
    assert Message.objects.filter(address__iexact="ada@vane.example").count() == 1
    assert "call-sheet" in papers()["ada@vane.example"]


def test_the_place_is_rung_but_gets_no_paper() -> None:
    booking = make_shoot()
    Attendee.objects.create(
        booking=booking, name="Harbour", part=Part.PLACE, email="quay@harbour.example"
    )
    send(make(booking))
    assert "quay@harbour.example" not in papers()


def test_the_jobs_client_gets_the_page_where_no_client_is_listed() -> None:
    booking = make_shoot()
    booking.attendees.all().delete()
    send(make(booking))
    assert papers()["meyer@example.org"] == "your-session-J-2026-001-v1.pdf"


def test_an_overtaken_version_is_not_sent() -> None:
    booking = make_shoot()
    first = make(booking)
    SetUp.objects.filter(name="Bow portraits").update(minutes=20)
    make(booking, LATER)
    with pytest.raises(CallSheetError, match="Version 2 was made since"):
        send(first)
    assert not Message.objects.exists()


def test_a_cancelled_session_gets_and_sends_nothing() -> None:
    booking = make_shoot()
    sheet = make(booking)
    cancel_booking(booking_id=booking.pk, by=booking.job.owner, at=MADE_AT)
    with pytest.raises(CallSheetError, match="cancelled"):
        send(sheet)
    with pytest.raises(CallSheetError, match="cancelled"):
        make(booking, LATER)


def test_with_no_address_at_all_it_says_so() -> None:
    booking = make_shoot()
    booking.attendees.all().delete()
    Person.objects.update(email="")
    booking.job.client.email = ""
    booking.job.client.save()
    with pytest.raises(CallSheetError, match="has an e-mail address"):
        send(make(booking))


def test_the_journal_tells_of_both_and_names_nobody() -> None:
    booking = make_shoot()
    send(make(booking))
    entries = JournalEntry.objects.filter(object_type="planning.callsheet")
    assert [entry.verb for entry in entries.order_by("sequence")] == ["made", "sent"]
    assert all(set(entry.data) <= {"version", "messages"} for entry in entries)
    assert broken_links() == []


def test_what_is_missing_is_told_before_it_is_printed() -> None:
    make_profile()
    booking = make_booking()
    booking.job.client.email = ""
    booking.job.client.save()
    told = " ".join(gap.words for gap in missing(booking, at=MADE_AT))
    for gap in (
        "not confirmed",
        "No set-ups",
        "No phone for Ada Vane",
        "No e-mail for Meyer Bakery",
        "Nobody of the crew",
        "No address",
        "No meeting point",
        "Nothing on parking",
        "Nothing on access",
        "Nothing on rain",
    ):
        assert gap in told


def test_a_shoot_that_is_planned_in_full_lacks_little() -> None:
    booking = make_shoot()
    told = [gap.words.partition(":")[0] for gap in missing(booking, at=MADE_AT)]
    assert told == [
        "The session is not confirmed yet.",
        "Not among the studio’s kit",
        "No release is signed for anybody photographed.",
    ]


def test_within_two_days_the_weather_is_missing_until_somebody_read_it() -> None:
    booking = make_shoot()
    wanted = "No weather is read yet, and the session is within two days."

    def told(before: timedelta) -> list[str]:
        at = booking.starts_at - before
        fresh = Booking.objects.get(pk=booking.pk)
        return [gap.words for gap in missing(fresh, at=at)]

    assert wanted not in told(timedelta(hours=49))
    assert wanted in told(timedelta(hours=47))
    note_weather(
        booking=booking,
        details={"read_in": "a bulletin", "for_at": booking.starts_at},
        by=booking.job.owner,
        at=MADE_AT,
    )
    assert wanted not in told(timedelta(hours=47))


def test_children_without_a_guardian_releases_and_misfits_are_named() -> None:
    booking = make_shoot()
    child = Attendee.objects.create(booking=booking, name="Pip", part=Part.SITTER)
    Need.objects.create(attendee=child, age=6)
    sitter = Sitter.objects.create(
        client=booking.job.client, name="Pip", added_at=MADE_AT
    )
    SetUp.objects.filter(name="Bow portraits").update(distance_m=0.01)

    gaps = {gap.words: gap.url for gap in missing(booking, at=MADE_AT)}

    assert "Nobody is named who answers for Pip." in gaps
    assert gaps["No release is signed for Pip."] == sitter.get_absolute_url()
    assert any("Bow portraits, has no settings" in words for words in gaps)


def test_what_is_missing_stops_it_until_somebody_says_all_the_same() -> None:
    sheet = make(make_shoot())
    with pytest.raises(GapsError):
        send_call_sheet(call_sheet_id=sheet.pk, by=sheet.made_by, at=MADE_AT)
    assert not Message.objects.exists()
