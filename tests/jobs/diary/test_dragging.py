"""By what sessions are dragged in the diary, and what is known to be taken."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.away.operations import Absence, block_time
from jobs.bookings.operations import confirm_booking
from jobs.bookings.states import BookingStatus
from jobs.diary.queries import diary_week
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
DAY = date(2026, 7, 1)


@pytest.mark.parametrize(
    ("hats", "handles"), [("owner", 1), ("planner", 1), ("bookkeeper", 0)]
)
def test_only_who_may_move_sees_a_handle(hats: str, handles: int) -> None:
    make_profile()
    booking = make_booking()
    browser = Browser()
    browser.force_login(make_person(hats=hats))

    for view in ("day", "week", "month", "list"):
        page = browser.get(f"/diary/?view={view}&on={DAY}").content.decode()

        assert page.count("data-handle ") == handles
        assert page.count(f'href="/jobs/sessions/{booking.pk}/move/"') == handles
        assert page.count("js/diary_drag") == handles


def test_what_is_over_or_lasts_a_day_has_no_handle() -> None:
    make_profile()
    done = make_booking(job=make_job("Done"))
    confirm_booking(booking_id=done.pk, by=done.job.owner, at=NOON)
    type(done).objects.filter(pk=done.pk).update(status=BookingStatus.COMPLETED)
    make_booking(job=make_job("Long"), hours=24)

    shown = [one for day in diary_week(DAY, at=NOON) for one in day.sessions]

    assert {one.title for one in shown} == {"Done", "Long"}
    assert [one.handle for one in shown] == [None] * len(shown)


def test_a_handle_tells_the_clock_of_the_place_and_that_of_the_studio() -> None:
    make_profile(time_zone="Europe/London")
    oslo = make_place("Quay", time_zone="Europe/Oslo")
    make_booking(place=oslo, starts_at=datetime(2026, 7, 1, 22, 30, tzinfo=UTC))

    days = diary_week(DAY, at=NOON)

    shown = next(one for day in days for one in day.sessions)
    assert shown.handle
    assert (shown.handle.day, shown.handle.starts) == ("2026-07-02", "00:30")
    assert (shown.handle.at, shown.handle.minutes) == ("2026-07-01T23:30", 120)
    assert shown.handle.clock.endswith(" time")
    assert (shown.keeps.start, shown.keeps.end) == (
        "2026-07-01T23:00",
        "2026-07-02T01:30",
    )


def test_the_page_knows_what_sessions_and_absences_keep() -> None:
    make_profile()
    ada = make_person()
    item = make_item()
    make_booking(job=make_job(by=ada), people=(ada,), items=(item,))
    day = datetime(2026, 7, 2, tzinfo=UTC)
    absence = Absence(
        person=ada, starts_at=day, ends_at=day + timedelta(days=1), why="Holiday"
    )
    block_time(absence=absence, by=ada, at=NOON)
    browser = Browser()
    browser.force_login(ada)

    page = browser.get(f"/diary/?on={DAY}").content.decode()

    needs = re.findall(r'data-needs="([^"]*)"', page)
    assert {*needs[0].split()} >= {f"person:{ada.pk}", f"kit:{item.pk}"}
    assert f"person:{ada.pk}" in needs[1:]
    assert 'data-start="2026-07-01T12:30" data-end="2026-07-01T15:00"' in page
