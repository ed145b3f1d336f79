from datetime import timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.holding import ClashError
from jobs.bookings.models import Booking, Reservation
from jobs.bookings.moving import call_off, move_booking, take_up_again
from jobs.bookings.operations import confirm_booking, pencil_booking
from jobs.bookings.panels import weather_calls
from jobs.bookings.states import BookingMoveError, BookingStatus
from jobs.bookings.weather import go_ahead, keep_spare, spare_of, take_spare
from jobs.jobs.models import Job
from planning.shoots.models import SetUp
from studio.history.models import JournalEntry
from studio.people.models import Person
from studio.timespan import TimeSpan
from tests.make import NOON, make_booking, make_item
from tests.make_planning import make_shoot

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
DAY = NOON + timedelta(days=10)


def later(booking: Booking, days: int) -> TimeSpan:
    return booking.span.shifted(timedelta(days=days))


@pytest.fixture
def firm(ada: Person, job: Job) -> Booking:
    booking = make_booking(job=job, people=(ada,), items=(make_item(),))
    return confirm_booking(booking_id=booking.pk, by=ada, at=NOON)


def test_a_move_takes_all_that_is_held_along_and_keeps_why(
    ada: Person, firm: Booking
) -> None:
    span = later(firm, 2)

    moved = move_booking(booking_id=firm.pk, span=span, because="Rain", by=ada, at=NOON)

    held = Reservation.objects.filter(holds=True)
    assert {row.starts_at for row in held} == {span.start - timedelta(minutes=30)}
    assert held.count() == 2
    change = moved.changes.get()
    assert (change.was_starts_at, change.because) == (DAY, "Rain")
    entry = JournalEntry.objects.get(verb="moved")
    assert entry.data == {"minutes": 2880}  # and no words of people


def test_a_move_onto_something_taken_leaves_all_as_it_was(
    ada: Person, firm: Booking
) -> None:
    rival = make_booking(people=(ada,), starts_at=DAY + timedelta(days=2))
    pencil_booking(booking_id=rival.pk, until=None, by=ada, at=NOON)

    with pytest.raises(ClashError, match="Ada Vane is taken"):
        move_booking(
            booking_id=firm.pk, span=later(firm, 2), because="", by=ada, at=NOON
        )

    firm.refresh_from_db()
    assert firm.starts_at == DAY
    assert firm.reservations.filter(holds=True, starts_at__lt=DAY).count() == 2
    assert not firm.changes.exists()


def test_the_set_ups_of_the_plan_go_along(ada: Person) -> None:
    booking = make_shoot()
    first = SetUp.objects.filter(plan__booking=booking).first()
    assert first is not None

    move_booking(
        booking_id=booking.pk, span=later(booking, 1), because="", by=ada, at=NOON
    )

    was = first.starts_at
    first.refresh_from_db()
    assert first.starts_at - was == timedelta(days=1)


def test_the_page_shows_what_a_move_touches_before_it_happens(
    browser: Browser, ada: Person, firm: Booking
) -> None:
    rival = make_booking(people=(ada,), starts_at=DAY + timedelta(days=2))
    pencil_booking(booking_id=rival.pk, until=None, by=ada, at=NOON)
    url = f"/jobs/sessions/{firm.pk}/move/"
    typed = {"starts": "13:00", "ends": "15:00", "because": "Rain"}
    clash, free = typed | {"day": "2026-07-03"}, typed | {"day": "2026-07-05"}

    refused = browser.post(url, clash).content.decode()
    shown = browser.post(url, free).content.decode()
    firm.refresh_from_db()
    stood = firm.starts_at
    other = browser.post(url, clash | {"seen": str(later(firm, 4))}).content.decode()
    browser.post(url, free | {"seen": str(later(firm, 4))})

    assert "Something is taken then: this stops it" in refused
    assert "Free: Ada Vane, Tripod." in shown
    assert "The light then" in shown
    assert stood == DAY
    assert "Move it" in other  # other times are shown first, not done
    firm.refresh_from_db()
    assert firm.starts_at == DAY + timedelta(days=4)
    page = browser.get(firm.get_absolute_url()).content.decode()
    assert "Moved from 13:00 on 1 Jul 2026, because: Rain" in page


def test_what_was_called_off_is_taken_up_again_on_the_same_day_only(
    browser: Browser, ada: Person, firm: Booking
) -> None:
    browser.post(f"/jobs/sessions/{firm.pk}/cancel/", {"because": "Ill"})
    page = browser.get(firm.get_absolute_url()).content.decode()
    assert "Take it up again" in page
    assert not Reservation.objects.filter(holds=True).exists()

    with pytest.raises(BookingMoveError, match="on the day it was called off"):
        take_up_again(booking_id=firm.pk, by=ada, at=NOON + timedelta(days=1))
    browser.post(f"/jobs/sessions/{firm.pk}/take-up/")

    firm.refresh_from_db()
    assert firm.status == BookingStatus.CONFIRMED
    assert Reservation.objects.filter(holds=True).count() == 2


def test_what_was_taken_meanwhile_is_not_had_back(ada: Person, firm: Booking) -> None:
    call_off(booking_id=firm.pk, because="Ill", by=ada, at=NOON)
    quick = make_booking(people=(ada,))
    pencil_booking(booking_id=quick.pk, until=None, by=ada, at=NOON)

    with pytest.raises(ClashError):
        take_up_again(booking_id=firm.pk, by=ada, at=NOON)

    firm.refresh_from_db()
    assert firm.status == BookingStatus.CANCELLED


def with_spare(ada: Person, firm: Booking) -> Booking:
    return keep_spare(
        booking_id=firm.pk,
        span=later(firm, 1),
        decide_by=DAY - timedelta(hours=20),
        by=ada,
        at=NOON,
    )


def test_a_spare_date_holds_the_same_things_and_a_card_comes_at_the_hour(
    ada: Person, firm: Booking
) -> None:
    spare = with_spare(ada, firm)

    assert Reservation.objects.filter(booking=spare, holds=True).count() == 2
    assert not weather_calls(ada, NOON)
    (item,) = weather_calls(ada, DAY - timedelta(hours=22))
    assert item.group == "today"
    assert "or the spare date Thu 2 Jul 13:00" in item.reason
    assert weather_calls(ada, DAY - timedelta(hours=19))[0].group == "late"


@pytest.mark.parametrize("goes", [True, False])
def test_deciding_confirms_one_date_and_frees_the_other(
    ada: Person, firm: Booking, *, goes: bool
) -> None:
    with_spare(ada, firm)

    act = go_ahead if goes else take_spare
    decided = act(booking_id=firm.pk, by=ada, at=NOON)

    assert decided.status == BookingStatus.CONFIRMED
    assert decided.starts_at == DAY + timedelta(days=0 if goes else 1)
    assert spare_of(decided) is None
    held = Reservation.objects.filter(holds=True)
    assert {row.booking_id for row in held} == {firm.pk}
    assert not weather_calls(ada, DAY)


def test_the_page_of_the_weather_call_keeps_a_spare_date_and_shows_both(
    browser: Browser, firm: Booking
) -> None:
    url = f"/jobs/sessions/{firm.pk}/weather/"
    typed = {
        "day": "2026-07-02",
        "starts": "13:00",
        "ends": "15:00",
        "decide_day": "2026-07-03",
        "decide_clock": "12:00",
    }

    late = browser.post(url, typed).content.decode()
    kept = browser.post(url, typed | {"decide_day": "2026-06-30"}, follow=True)

    assert "before either date" in late
    page = kept.content.decode()
    assert "Thu 2 Jul 2026" in page
    assert "Go ahead on this date" in page
