"""Two people take one thing for one time in the same instant."""

from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from jobs.away.operations import Absence, block_time
from jobs.bookings.holding import ClashError
from jobs.bookings.models import Booking, Reservation
from jobs.bookings.operations import (
    BookingWish,
    StaleBookingError,
    change_booking,
    confirm_booking,
    pencil_booking,
)
from jobs.bookings.sessions import SessionDraft, write_session
from tests.make import NOON, make_booking, make_item, make_job, make_person, make_place
from tests.rivals import in_a_file, race

ROUNDS = 6


def kinds(given: list[Any]) -> list[str]:
    return sorted(type(one).__name__ for one in given)


def test_of_two_who_confirm_at_once_exactly_one_gets_the_tripod(ring: Path) -> None:
    ada, tripod = make_person(), make_item()
    starts = [NOON + timedelta(days=10 + day) for day in range(ROUNDS)]
    pairs = [
        [make_booking(items=(tripod,), starts_at=start) for _ in range(2)]
        for start in starts
    ]

    with in_a_file(ring):
        rounds = [
            race(
                partial(confirm_booking, booking_id=one.pk, by=ada, at=NOON),
                partial(confirm_booking, booking_id=other.pk, by=ada, at=NOON),
            )
            for one, other in pairs
        ]
        (held,) = race(lambda: Reservation.objects.filter(holds=True).count())

    assert [kinds(given) for given in rounds] == [["Booking", "ClashError"]] * ROUNDS
    assert held == ROUNDS


def test_times_that_only_overlap_are_raced_for_too(ring: Path) -> None:
    ada, start = make_person(), NOON + timedelta(days=10)
    early = make_booking(people=(ada,), starts_at=start)
    late = make_booking(people=(ada,), starts_at=start + timedelta(hours=1, minutes=59))
    far = make_booking(people=(ada,), starts_at=start + timedelta(days=30))

    with in_a_file(ring):
        given = race(
            partial(pencil_booking, booking_id=early.pk, until=None, by=ada, at=NOON),
            partial(confirm_booking, booking_id=late.pk, by=ada, at=NOON),
        )
        holiday = Absence(
            person=ada,
            starts_at=far.starts_at + timedelta(hours=1),
            ends_at=far.starts_at + timedelta(days=20),
            why="Holiday",
        )
        away = race(
            partial(block_time, absence=holiday, by=ada, at=NOON),
            partial(confirm_booking, booking_id=far.pk, by=ada, at=NOON),
        )

    assert kinds(given) == ["Booking", "ClashError"]
    assert kinds(away) in (["BlockedTime", "ClashError"], ["Booking", "ClashError"])


def test_of_two_new_sessions_in_one_room_one_is_written_and_the_other_leaves_nothing(
    ring: Path,
) -> None:
    ada, room = make_person(), make_place("The studio", is_room=True)
    start = NOON + timedelta(days=10)
    draft = SessionDraft(
        place=room,
        starts_at=start,
        ends_at=start + timedelta(hours=1),
        setting_up_minutes=30,
        person_ids=(),
        kit_item_ids=(),
        weather_decision="",
        hold_until=start,
    )
    jobs = [make_job("First"), make_job("Second")]

    with in_a_file(ring):
        given = race(
            *(
                partial(write_session, job=job, draft=draft, by=ada, at=NOON)
                for job in jobs
            )
        )
        (left,) = race(Booking.objects.count)

    assert kinds(given) == ["Booking", "ClashError"]
    assert left == 1


def test_of_two_who_change_one_session_the_slower_is_told(ring: Path) -> None:
    ada, booking = make_person(), make_booking()

    def move(hours: int) -> Booking:
        start = booking.starts_at + timedelta(hours=hours)
        wish = BookingWish(
            place=booking.place, starts_at=start, ends_at=start + timedelta(hours=2)
        )
        return change_booking(
            booking_id=booking.pk, wish=wish, version=1, by=ada, at=NOON
        )

    with in_a_file(ring):
        given = race(partial(move, 1), partial(move, 2))

    assert kinds(given) == ["Booking", StaleBookingError.__name__]


def test_the_refusal_names_who_was_quicker(ring: Path) -> None:
    ada, tripod = make_person(), make_item()
    pair = [make_booking(items=(tripod,)) for _ in range(2)]

    with in_a_file(ring):
        given = race(
            *(
                partial(confirm_booking, booking_id=one.pk, by=ada, at=NOON)
                for one in pair
            )
        )

    (refusal,) = [one for one in given if isinstance(one, ClashError)]
    assert "Tripod is taken on Wed 1 Jul 2026" in str(refusal)
