import re
from datetime import UTC, date, datetime, timedelta

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.operations import cancel_booking, confirm_booking, pencil_booking
from jobs.diary.queries import diary_list, diary_month, diary_week, month_of, week_of
from tests.make import (
    NOON,
    make_booking,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

TODAY = NOON.date()  # a Sunday


@pytest.fixture(params=["owner", "planner", "bookkeeper"])
def browser(request: pytest.FixtureRequest) -> Browser:
    at_home()
    browser = Browser()
    browser.force_login(make_person(hats=request.param))
    return browser


def at_home() -> None:
    make_profile(home_name="Quay", home_latitude=54.47, home_longitude=-0.62)


def test_a_week_runs_from_monday_and_a_month_in_whole_weeks() -> None:
    assert [day.weekday() for day in week_of(TODAY)] == list(range(7))
    weeks = month_of(date(2026, 2, 14))
    assert (weeks[0][0], weeks[-1][-1]) == (date(2026, 1, 26), date(2026, 3, 1))


@pytest.mark.parametrize(("view", "strips"), [("day", 1), ("week", 7), ("month", 35)])
def test_the_diary_is_a_table_with_a_strip_for_each_day(
    browser: Browser, view: str, strips: int
) -> None:
    page = browser.get(f"/diary/?view={view}&on=2026-06-21").content.decode()

    days = set(re.findall(r'id="(day-\d{8})', page))
    assert page.count("<table") == 1
    assert len(days) == strips
    assert page.count('aria-current="date"') == 1


def test_sessions_stand_on_their_day_with_their_mark(browser: Browser) -> None:
    ada = make_person()
    names = ("Firm", "Held", "Loose", "Off")
    firm, held, _, off = (make_booking(job=make_job(name, by=ada)) for name in names)
    confirm_booking(booking_id=firm.pk, by=ada, at=NOON)
    pencil_booking(booking_id=held.pk, until=None, by=ada, at=NOON)
    cancel_booking(booking_id=off.pk, by=ada, at=NOON)

    page = browser.get("/diary/?on=2026-07-01").content.decode()

    for words in ("Firm", "Held", "Loose", "Confirmed", "Pencilled", "Proposed"):
        assert words in page
    assert "Off" not in page
    assert "13:00–15:00" in page
    assert "rising" in page  # the hatch of what is pencilled in


def test_a_session_over_midnight_stands_on_both_days() -> None:
    at_home()
    start = datetime(2026, 7, 1, 21, tzinfo=UTC)
    make_booking(starts_at=start, hours=4)

    days = {day.on: day for day in diary_week(date(2026, 7, 1), at=NOON)}

    first, second = days[date(2026, 7, 1)], days[date(2026, 7, 2)]
    assert first.sessions[0].clocks == "22:00–Thu 02:00"
    assert second.sessions[0].clocks == "Wed 22:00–Thu 02:00"


def test_a_session_elsewhere_stands_on_the_day_at_home_by_its_own_clock() -> None:
    at_home()
    tokyo = make_place("Tokyo", time_zone="Asia/Tokyo")
    make_booking(place=tokyo, starts_at=datetime(2026, 7, 1, 16, tzinfo=UTC))

    days = {day.on: day for day in diary_week(date(2026, 7, 1), at=NOON)}

    assert days[date(2026, 7, 1)].sessions[0].clocks == ("Thu 01:00–03:00, Tokyo time")


def test_the_week_of_the_clock_change_has_seven_days() -> None:
    at_home()
    make_booking(starts_at=datetime(2026, 10, 25, 0, 30, tzinfo=UTC), hours=1)

    week = diary_week(date(2026, 10, 25), at=NOON)

    assert len(week) == 7
    assert week[-1].sessions[0].clocks == "01:30 BST–01:30 GMT"


@pytest.mark.parametrize(
    "on", ["", "soon", "0001-01-01", "9999-12-31", "2026-02-30", "20260621", "\x00"]
)
def test_a_day_that_cannot_be_shown_becomes_today(browser: Browser, on: str) -> None:
    for view in ("week", "month", "year"):
        page = browser.get("/diary/", {"on": on, "view": view})
        assert page.status_code == 200
        assert "June 2026" in page.content.decode()


def test_earlier_and_later_lead_on_without_gaps(browser: Browser) -> None:
    week = browser.get("/diary/?on=2026-03-01").content.decode()
    month = browser.get("/diary/?view=month&on=2026-01-31").content.decode()

    assert "view=week&amp;on=2026-02-22" in week
    assert "view=week&amp;on=2026-03-08" in week
    assert "view=month&amp;on=2025-12-31" in month
    assert "view=month&amp;on=2026-02-01" in month


def test_without_a_home_the_diary_says_how_to_get_daylight() -> None:
    make_profile()
    browser = Browser()
    browser.force_login(make_person())

    page = browser.get("/diary/").content.decode()

    assert "Say in Settings where your studio is" in page
    assert browser.get("/diary/?view=month").status_code == 200


def test_every_view_takes_four_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    at_home()
    ada = make_person()
    for day in range(6):
        start = NOON + timedelta(days=day)
        make_booking(job=make_job(by=ada), starts_at=start, people=(ada,))

    with django_assert_num_queries(4):
        diary_week(TODAY, at=NOON)
    with django_assert_num_queries(4):
        listed = diary_list(TODAY, at=NOON)
    assert [len(day.sessions) for day in listed] == [1] * 6
    with django_assert_num_queries(4):
        weeks = diary_month(TODAY, at=NOON)
    assert sum(len(day.sessions) for week in weeks for day in week) == 6


def test_ugly_titles_stay_text(browser: Browser) -> None:
    job = make_job('<img src="file:///etc/passwd"/> & Söhne')
    make_booking(job=job, place=make_place("Ω" * 300))

    for view in ("week", "month"):
        page = browser.get(f"/diary/?view={view}&on=2026-07-01").content.decode()
        assert "<img src=" not in page
        assert "&lt;img src=" in page
