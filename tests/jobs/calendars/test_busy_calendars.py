from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser

from jobs.bookings.operations import pencil_booking
from jobs.calendars import busy
from jobs.calendars.busy import (
    UnreadableCalendarError,
    follow_address,
    read_again,
    read_times,
    take_file,
)
from jobs.calendars.fetching import FetchError
from jobs.calendars.models import BusyCalendar, BusyTime
from jobs.calendars.queries import busy_sentence
from studio.panels import today_items
from studio.people.models import Person
from tests.jobs.calendars.test_occurrences import calendar, event, event_lines
from tests.make import NOON, make_booking, make_job, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

ADDRESS = "https://cal.example/ada.ics"
# 1 July 2026, 13:00 to 14:00 in London
DENTIST = event("DTSTART:20260701T120000Z", "DTEND:20260701T130000Z", "SUMMARY:Dentist")


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


def dentist(person: Person) -> BusyCalendar:
    return take_file(person=person, name="Dental diary", content=DENTIST, at=NOON)


def test_a_file_gives_busy_times_and_nothing_else_of_it(ada: Person) -> None:
    kept = dentist(ada)

    (time,) = BusyTime.objects.all()
    assert (time.person, time.calendar) == (ada, kept)
    assert f"{time.starts_at:%d %H:%M}/{time.ends_at:%H:%M}" == "01 12:00/13:00"
    assert not any("Dentist" in str(value) for value in vars(time).values())


def test_a_newer_file_of_the_same_name_takes_the_place_of_the_first(
    ada: Person,
) -> None:
    dentist(ada)

    take_file(person=ada, name="Dental diary", content=calendar(), at=NOON)

    assert BusyCalendar.objects.count() == 1
    assert not BusyTime.objects.exists()


@pytest.mark.parametrize(
    "content",
    [
        # a rule that never comes true sends a reader through thousands of years
        event(
            "DTSTART:20260101T000000Z", "RRULE:FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30"
        ),
        event("DTSTART:19000101T000000Z", "RRULE:FREQ=SECONDLY"),
        b"no calendar at all",
        b"x" * (busy.MOST_BYTES + 1),
        calendar(*(event_lines("DTSTART:20260701T120000Z") * 10_001)),
    ],
    ids=["never", "for ever", "no calendar", "large", "many"],
)
def test_what_would_use_up_time_or_room_is_refused(
    ada: Person, content: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(busy, "LONGEST_S", 3)

    with pytest.raises(UnreadableCalendarError):
        take_file(person=ada, name="Dental diary", content=content, at=NOON)

    assert not BusyCalendar.objects.exists()


def test_an_address_is_followed_and_a_fault_keeps_what_was_known(ada: Person) -> None:
    kept = follow_address(
        person=ada, name="Dental diary", address=ADDRESS, at=NOON, get=lambda _: DENTIST
    )
    assert list(BusyCalendar.objects.due(at=NOON)) == []
    assert list(BusyCalendar.objects.due(at=NOON + timedelta(hours=1))) == [kept]

    def down(_: str) -> bytes:
        raise FetchError("cal.example did not answer as it should.")

    later = NOON + timedelta(hours=2)
    faulty = read_again(calendar_id=kept.pk, at=later, get=down)
    assert (faulty.failing_since, faulty.times.count()) == (later, 1)
    assert "did not answer" in faulty.fault
    titles = [
        item.title for item in today_items(ada, later + timedelta(days=2), ada.hats)
    ]
    assert "Look after your calendar “Dental diary”" in titles

    well = read_again(calendar_id=kept.pk, at=later, get=lambda _: calendar())
    assert (well.fault, well.failing_since, well.times.count()) == ("", None, 0)


def test_somebody_busy_elsewhere_is_warned_about_and_not_refused(ada: Person) -> None:
    dentist(ada)
    booking = make_booking(people=(ada,), starts_at=NOON + timedelta(days=10))
    wanted = list(booking.reservations.order_by("resource"))

    said = busy_sentence(wanted)

    assert said == (
        "Ada Vane’s own calendar is taken from 13:00 on Wed 1 Jul to 14:00."
    )
    pencil_booking(
        booking_id=booking.pk, until=NOON + timedelta(days=1), by=ada, at=NOON
    )


def test_times_that_only_touch_and_other_people_are_no_reason(ada: Person) -> None:
    dentist(ada)
    ben = make_person("Ben Orme", hats="planner")
    after = make_booking(
        people=(ada,), starts_at=NOON + timedelta(days=10, hours=1, minutes=30)
    )
    bens = make_booking(people=(ben,), starts_at=NOON + timedelta(days=10))

    assert busy_sentence(after.reservations.all()) == ""
    assert busy_sentence(bens.reservations.all()) == ""
    assert busy_sentence([]) == ""


def test_the_pages_of_a_session_say_who_is_busy(client: Browser, ada: Person) -> None:
    client.force_login(ada)
    dentist(ada)
    booking = make_booking(
        job=make_job(by=ada), people=(ada,), starts_at=NOON + timedelta(days=10)
    )
    asked: dict[str, Any] = {
        "place": booking.place_id,
        "day": "2026-07-01",
        "starts": "13:00",
        "ends": "14:00",
        "setting_up_minutes": "0",
        "people": [ada.pk],
        "version": booking.version,
    }

    echo = client.get(f"/jobs/{booking.job_id}/session/echo/", asked)
    job = client.get(f"/jobs/{booking.job_id}/")
    saved = client.post(f"/jobs/{booking.job_id}/session/", asked, follow=True)

    for page in (echo, job, saved):
        assert "Ada Vane’s own calendar is taken" in page.content.decode()


def test_a_person_adds_reads_and_forgets_a_calendar(
    client: Browser, ada: Person
) -> None:
    client.force_login(ada)
    file = SimpleUploadedFile("own.ics", DENTIST, content_type="text/calendar")

    page = client.post("/calendar/busy/", {"name": "Own", "file": file}, follow=True)

    assert "1 busy time ahead" in page.content.decode()
    kept = BusyCalendar.objects.get()
    assert client.post(f"/calendar/busy/{kept.pk}/read/").status_code == 404  # a file
    client.post(f"/calendar/busy/{kept.pk}/drop/")
    assert not BusyTime.objects.exists()


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"name": ""}, "Fill in “What you call it”."),
        ({}, "Give an address or a file: one of the two."),
        ({"address": "http://cal.example/"}, "Give an address that starts with https"),
        ({"address": "https://127.0.0.1/a.ics"}, "127.0.0.1 is not a public address."),
        ({"address": "https://localhost/a.ics"}, "localhost is not a public address."),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_field(
    client: Browser, ada: Person, answers: dict[str, str], said: str
) -> None:
    client.force_login(ada)

    page = client.post("/calendar/busy/", {"name": "Own"} | answers)

    assert said in page.content.decode()
    assert "<title>Error: Add a calendar" in page.content.decode()
    assert not BusyCalendar.objects.exists()


def test_nobody_touches_somebody_elses_calendar(client: Browser, ada: Person) -> None:
    kept = dentist(ada)
    client.force_login(make_person("Ben Orme", hats="owner"))

    assert client.post(f"/calendar/busy/{kept.pk}/drop/").status_code == 404
    assert "Dental diary" not in client.get("/calendar/").content.decode()


def test_only_so_many_calendars_are_kept(ada: Person) -> None:
    for number in range(busy.MOST_CALENDARS):
        BusyCalendar.objects.create(person=ada, name=f"{number}", read_next_at=NOON)

    with pytest.raises(UnreadableCalendarError, match="More than 10 calendars"):
        dentist(ada)


def test_reading_is_cut_to_the_days_that_matter(ada: Person) -> None:
    days = event("DTSTART;VALUE=DATE:20200101", "RRULE:FREQ=WEEKLY", "DURATION:P1D")

    found = read_times(days, at=NOON)

    assert 57 <= len(found) <= 58  # 401 days of weeks
