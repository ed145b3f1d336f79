from datetime import UTC, datetime, timedelta

import pytest
from django.db import DatabaseError, transaction
from django.test import Client as Browser

from jobs.away.models import BlockedTime
from jobs.away.operations import Absence, block_time, free_time, pieces
from jobs.bookings.holding import ClashError
from jobs.bookings.models import Reservation
from jobs.bookings.operations import confirm_booking, pencil_booking
from studio.people.models import Person
from studio.timespan import TimeSpan
from tests.make import NOON, make_booking, make_person, make_place, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
DAY = NOON + timedelta(days=10)


def block(person: Person | None, by: Person, days: int, length: int = 1) -> BlockedTime:
    start = NOON + timedelta(days=days)
    absence = Absence(
        person=person,
        starts_at=start,
        ends_at=start + timedelta(days=length),
        why="Holiday",
    )
    return block_time(absence=absence, by=by, at=NOON)


def test_nobody_is_booked_in_their_holiday_however_long_it_is() -> None:
    ada = make_person()
    block(ada, ada, days=-20, length=60)
    booking = make_booking(people=(ada,))

    with pytest.raises(ClashError, match=r"Ada Vane is away from .*: Holiday"):
        confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    with pytest.raises(DatabaseError), transaction.atomic():
        booking.reservations.update(holds=True)


def test_blocked_time_over_a_held_session_is_refused_and_leaves_nothing() -> None:
    ada = make_person()
    pencil_booking(
        booking_id=make_booking(people=(ada,)).pk, until=None, by=ada, at=NOON
    )

    with pytest.raises(ClashError, match="Shop portraits"):
        block(None, ada, days=1, length=40)

    assert not BlockedTime.objects.exists()


def test_a_closed_studio_takes_no_session_of_anybody_or_nobody() -> None:
    ada, room = make_person(), make_place("The studio", is_room=True)
    block(None, ada, days=9, length=3)
    for booking in (make_booking(), make_booking(place=room)):
        with pytest.raises(ClashError, match="The whole studio is closed"):
            confirm_booking(booking_id=booking.pk, by=ada, at=NOON)


def test_freeing_a_closed_day_leaves_the_holiday_around_it() -> None:
    ada = make_person()
    closed = block(None, ada, days=9, length=3)
    block(ada, ada, days=5, length=10)

    free_time(blocked_id=closed.pk, by=ada, at=NOON)

    (row,) = Reservation.objects.all()
    assert row.ends_at - row.starts_at == timedelta(days=10)
    booking = make_booking(people=(ada,))
    with pytest.raises(ClashError):
        confirm_booking(booking_id=booking.pk, by=ada, at=NOON)


def test_pieces_leave_out_what_others_cover() -> None:
    # Worked by hand: days 0 to 30 without 3 to 5 and 4 to 6, in pieces of 14 at most.
    def days(first: int, last: int) -> TimeSpan:
        return TimeSpan(NOON + timedelta(days=first), NOON + timedelta(days=last))

    given = list(pieces(days(0, 30), [days(4, 6), days(3, 5), days(29, 40)]))

    assert given == [days(0, 3), days(6, 20), days(20, 29)]


def test_whole_days_are_blocked_by_the_studios_clock_and_shown_in_the_diary() -> None:
    make_profile(home_latitude=54.47, home_longitude=-0.62)
    ada, browser = make_person(), Browser()
    browser.force_login(ada)
    typed = {"who": str(ada.pk), "from_day": "2026-07-01", "until_day": "2026-07-02"}

    refused = browser.post("/diary/away/", typed).content.decode()
    kept = browser.post("/diary/away/", typed | {"why": "Dentist"}, follow=True)

    assert "Fill in “Why”." in refused
    assert "Wed 1 Jul 2026 to Thu 2 Jul 2026" in kept.content.decode()
    blocked = BlockedTime.objects.get()
    assert blocked.starts_at == datetime(2026, 6, 30, 23, tzinfo=UTC)
    assert blocked.ends_at == datetime(2026, 7, 2, 23, tzinfo=UTC)
    week = browser.get("/diary/?on=2026-07-01").content.decode()
    assert week.count(">Ada Vane is away: Dentist<") == 2

    browser.post(f"/diary/away/{blocked.pk}/free/")
    assert not Reservation.objects.exists()


def test_a_clash_stands_beside_the_day_and_what_was_typed_stays() -> None:
    make_profile()
    ada, browser = make_person(), Browser()
    browser.force_login(ada)
    booking = make_booking(people=(ada,))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    typed = {"who": "studio", "from_day": "2026-07-01", "until_day": "2026-07-01"}

    page = browser.post("/diary/away/", typed | {"why": "Inventory"}).content.decode()

    assert "Move that session first." in page
    assert 'value="Inventory"' in page
