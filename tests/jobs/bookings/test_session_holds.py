from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.bookings.operations import cancel_booking, confirm_booking, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.operations import close_as_lost
from jobs.kits.operations import retire_item
from jobs.places.models import Place
from studio.people.models import Person
from tests.jobs.bookings.session_forms import take, typed, url
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_person,
    make_place,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


def test_pencilling_at_once_is_refused_by_a_clash_and_nothing_is_lost(
    browser: Browser, job: Job, ada: Person
) -> None:
    tripod = make_item()
    take(items=(tripod,))
    answers = typed(
        new_name="Long Sand",
        new_position="54.5, -0.6",
        items_support=[tripod.pk],
        weather_decision="At noon",
        pencil="1",
    )

    page = browser.post(url(job), answers).content.decode()

    assert page.count("Tripod is taken on Wed 14 Oct 2026") == 3  # top, field, echo
    assert 'value="Long Sand"' in page
    assert 'value="At noon"' in page
    assert Booking.objects.count() == 1
    assert not Place.objects.filter(name="Long Sand").exists()


def test_pencilled_at_once_it_is_held_until_the_deposit_would_be_due(
    browser: Browser, job: Job
) -> None:
    browser.post(url(job), typed(make_place(), pencil="1"))

    booking = Booking.objects.get()
    assert booking.status == BookingStatus.PENCILLED
    # Seven days from 21 June, to the end of the day in London.
    assert booking.held_until == datetime(2026, 6, 28, 23, tzinfo=UTC)


def test_a_proposal_that_clashes_is_kept_with_a_warning(
    browser: Browser, job: Job, ada: Person
) -> None:
    take(ada)

    page = browser.post(
        url(job), typed(make_place(), people=[ada.pk]), follow=True
    ).content.decode()

    assert "It holds nothing yet, and Ada Vane is taken" in page
    assert "Something is taken" in page
    assert Booking.objects.count() == 2


def test_a_held_session_is_not_moved_onto_another(
    browser: Browser, ada: Person
) -> None:
    place = make_place()
    mine = make_booking(people=(ada,), place=place)
    take(ada)
    confirm_booking(booking_id=mine.pk, by=ada, at=NOON)

    page = browser.post(
        url(mine.job), typed(place, people=[ada.pk], version=mine.version)
    ).content.decode()

    mine.refresh_from_db()
    assert "Ada Vane is taken" in page
    assert mine.starts_at == NOON + timedelta(days=10)
    assert mine.reservations.get().holds


def test_a_stale_edit_gets_both_texts_and_may_be_saved_over(
    browser: Browser, ada: Person
) -> None:
    place = make_place("North beach")
    booking = make_booking(place=place, people=(ada,))
    browser.post(url(booking.job), typed(place, version=1, weather_decision="Theirs"))
    mine = typed(place, version=1, starts="16:00", weather_decision="Mine")

    page = browser.post(url(booking.job), mine)

    html = page.content.decode()
    assert page.status_code == 409
    assert "Somebody else changed this booking meanwhile." in html
    for text in ("Theirs", "Mine", "15:00", "16:00"):
        assert text in html
    assert 'name="version" value="2"' in html
    booking.refresh_from_db()
    assert booking.weather_decision == "Theirs"

    browser.post(url(booking.job), mine | {"version": "2"})

    booking.refresh_from_db()
    assert booking.weather_decision == "Mine"


def test_a_closed_jobs_session_stays_as_it_is(browser: Browser, job: Job) -> None:
    close_as_lost(job_id=job.pk, because="Price", by=job.owner, at=NOON)

    page = browser.get(url(job), follow=True).content.decode()

    assert "This job is closed" in page


def test_after_a_session_that_is_called_off_the_job_gets_a_new_one(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking()
    cancel_booking(booking_id=booking.pk, by=ada, at=NOON)

    browser.post(url(booking.job), typed(make_place()))

    assert booking.job.bookings.live().count() == 1


def test_a_retired_item_that_the_session_wants_stays_on_its_list(
    browser: Browser, ada: Person
) -> None:
    tripod, other = make_item("Old tripod"), make_item("Other tripod")
    booking = make_booking(items=(tripod,))
    for item in (tripod, other):
        retire_item(item_id=item.pk, by=ada, at=NOON)

    page = browser.get(url(booking.job)).content.decode()

    assert "Old tripod" in page
    assert "Other tripod" not in page


def test_a_session_is_pencilled_until_the_day_that_was_typed(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking()

    shown = browser.get(f"/jobs/sessions/{booking.pk}/pencil/").content.decode()
    browser.post(f"/jobs/sessions/{booking.pk}/pencil/", {"until_day": "2026-06-25"})

    booking.refresh_from_db()
    assert 'value="2026-06-28"' in shown
    assert booking.held_until == datetime(2026, 6, 25, 23, tzinfo=UTC)


def test_a_session_is_not_pencilled_until_a_day_that_is_over(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking()

    page = browser.post(
        f"/jobs/sessions/{booking.pk}/pencil/", {"until_day": "2026-06-01"}
    )

    assert "held until a time that is still to come" in page.content.decode()


@pytest.mark.parametrize(
    ("act", "status"),
    [
        ("confirm", BookingStatus.CONFIRMED),
        ("let-go", BookingStatus.PROPOSED),
        ("cancel", BookingStatus.CANCELLED),
    ],
)
def test_a_pencilled_session_is_confirmed_let_go_or_called_off(
    browser: Browser, ada: Person, act: str, status: BookingStatus
) -> None:
    booking = make_booking()
    pencil_booking(booking_id=booking.pk, until=None, by=ada, at=NOON)

    path = f"/jobs/sessions/{booking.pk}/{act}/"
    page = browser.post(path, {"because": "Ill"}, follow=True)

    booking.refresh_from_db()
    assert booking.status == status
    assert 'class="success"' in page.content.decode()


@pytest.mark.parametrize("act", ["confirm", "let-go", "cancel"])
def test_what_cannot_be_done_is_refused_in_a_sentence(
    browser: Browser, ada: Person, act: str
) -> None:
    booking = make_booking()
    cancel_booking(booking_id=booking.pk, by=ada, at=NOON)

    path = f"/jobs/sessions/{booking.pk}/{act}/"
    page = browser.post(path, {"because": "Ill"}, follow=True).content.decode()

    assert "A cancelled booking cannot become" in page


def test_calling_off_asks_first_and_nothing_is_done_by_looking(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking()

    page = browser.get(f"/jobs/sessions/{booking.pk}/cancel/").content.decode()

    booking.refresh_from_db()
    assert "Until midnight it can be taken up again" in page
    assert booking.status == BookingStatus.PROPOSED
    for act in ("confirm", "let-go"):
        assert browser.get(f"/jobs/sessions/{booking.pk}/{act}/").status_code == 405


@pytest.mark.parametrize(("hat", "status"), [("planner", 200), ("bookkeeper", 403)])
def test_planners_write_sessions_and_bookkeepers_do_not(
    hat: str, status: int, job: Job
) -> None:
    booking, browser = make_booking(), Browser()
    browser.force_login(make_person(hats=hat))

    for path in (
        url(job),
        url(job, "echo/"),
        f"/jobs/sessions/{booking.pk}/pencil/",
        f"/jobs/sessions/{booking.pk}/cancel/",
        f"/jobs/sessions/{booking.pk}/people/",
    ):
        assert browser.get(path).status_code == status
