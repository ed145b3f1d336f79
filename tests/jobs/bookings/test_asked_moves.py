"""The page of a move, opened by an address that asks for other times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.bookings.move_forms import MoveForm
from jobs.jobs.models import Job
from tests.make import make_booking, make_place

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


def at_place(job: Job, zone: str, *, minutes: int = 120) -> Booking:
    place = make_place("There", time_zone=zone)
    booking = make_booking(job=job, place=place)
    booking.ends_at = booking.starts_at + timedelta(minutes=minutes)
    booking.save(update_fields=["ends_at"])
    return booking


def test_the_address_shows_what_a_move_touches_and_moves_nothing(
    browser: Browser, job: Job
) -> None:
    booking = make_booking(job=job)
    url = f"/jobs/sessions/{booking.pk}/move/"

    page = browser.get(f"{url}?day=2026-07-03&starts=14:15").content.decode()
    sent = {"day": "2026-07-03", "starts": "14:15", "ends": "16:15"}
    seen = {"seen": "2026-07-03T13:15:00+00:00/2026-07-03T15:15:00+00:00"}
    without = browser.post(url, sent | seen).content.decode()
    booking.refresh_from_db()
    stood = booking.starts_at
    browser.post(url, sent | seen | {"because": "Rain"})

    for shown in (page, without):
        assert "What it touches" in shown
        assert "Fri 3 Jul 2026, 14:15–16:15" in shown
        assert seen["seen"] in shown
    assert "Answer “Why?”." not in page
    assert "Answer “Why?”." in without
    assert stood == datetime(2026, 7, 1, 12, tzinfo=UTC)
    booking.refresh_from_db()
    assert booking.starts_at == datetime(2026, 7, 3, 13, 15, tzinfo=UTC)


# In the United Kingdom summer time ends at 01:00 GMT on the last Sunday of October and
# begins then on the last of March: the Summer Time Order 2002, SI 2002/262. Tokyo has
# none and is 9 hours ahead. A session of two hours takes two hours on those nights too.
@pytest.mark.parametrize(
    ("zone", "minutes", "day", "starts", "span"),
    [
        ("Europe/London", 120, "2026-10-24", "23:30", "24 22:30 25 00:30"),
        ("Europe/London", 120, "2026-10-25", "00:30", "24 23:30 25 01:30"),
        ("Europe/London", 120, "2026-10-25", "01:15", "25 00:15 25 02:15"),
        ("Europe/London", 30, "2026-10-25", "01:45", "25 00:45 25 01:15"),
        ("Europe/London", 120, "2027-03-28", "00:30", "28 00:30 28 02:30"),
        ("Asia/Tokyo", 120, "2026-10-25", "08:00", "24 23:00 25 01:00"),
        ("Asia/Tokyo", 120, "", "08:00", "30 23:00 01 01:00"),
    ],
)
def test_a_session_keeps_its_length_where_the_clocks_change(
    job: Job, zone: str, minutes: int, day: str, starts: str, span: str
) -> None:
    booking = at_place(job, zone, minutes=minutes)

    form = MoveForm.from_address(booking, day=day, starts=starts)

    assert form.span
    assert f"{form.span.start:%d %H:%M} {form.span.end:%d %H:%M}" == span


def test_a_time_that_the_clocks_skip_is_refused_and_one_that_comes_twice_asked_about(
    browser: Browser, job: Job
) -> None:
    url = f"/jobs/sessions/{at_place(job, 'Europe/London').pk}/move/"

    skipped = browser.get(f"{url}?day=2027-03-28&starts=01:30").content.decode()
    twice = browser.get(f"{url}?day=2026-10-25&starts=01:15").content.decode()

    assert "01:30 does not exist on 28 March 2027" in skipped
    assert "What it touches" not in skipped
    assert "The second, after they have gone back" in twice
    assert "01:15 BST–02:15" in twice


@pytest.mark.parametrize(
    ("day", "starts", "words"),
    [
        ("2026-02-30", "14:00", "Write a day that exists"),
        ("9999-12-31", "23:59", "Write a day that exists"),
        ("-1", "14:00", "Write a day that exists"),
        ("2026-07-03", "25:61", "Write a time such as"),
        ("2026-07-03", "7", "7 could be morning or afternoon"),
        ("2026-07-03", "\x0014:00'; DROP TABLE", "Write a time such as"),
        ("<script>", "<img src=x>", "Write a day that exists"),
        ("9" * 4000, "9" * 4000, "Write a day that exists"),
        ("1900-01-01", "00:00", "What it touches"),
        ("2199-12-31", "23:45", "What it touches"),
        ("", "14:15", "What it touches"),
        ("2026-07-03", "", "What it touches"),
        ("", "", "Nothing is moved yet"),
    ],
)
def test_whatever_the_address_says_gets_a_page(
    browser: Browser, job: Job, day: str, starts: str, words: str
) -> None:
    url = f"/jobs/sessions/{make_booking(job=job).pk}/move/"

    page = browser.get(url, {"day": day, "starts": starts, "because": "x"})

    assert page.status_code == 200
    assert words in page.content.decode()
    assert "<script>" not in page.content.decode()
    assert "<img src" not in page.content.decode()
