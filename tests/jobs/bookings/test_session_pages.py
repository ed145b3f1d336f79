from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking, Reservation
from jobs.bookings.operations import cancel_booking, confirm_booking, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.jobs.models import Job
from jobs.jobs.operations import close_as_lost
from jobs.kits.models import KitCategory
from jobs.kits.operations import keep_kit, retire_item
from jobs.places.models import Place
from planning.light.almanac import light_day
from studio.people.models import Person
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

LONG = "Großes Haus Ωμέγα Север " * 12 + "am Ende."
TROMSOE = (69.65, 18.96)


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


@pytest.fixture
def browser(ada: Person) -> Browser:
    browser = Browser()
    browser.force_login(ada)
    return browser


@pytest.fixture
def job(ada: Person) -> Job:
    return make_job(by=ada)


def typed(at: Place | None = None, **answers: Any) -> dict[str, Any]:
    usual = {
        "place": str(at.pk) if at else "new",
        "day": "2026-10-14",
        "starts": "15:00",
        "ends": "18:45",
        "setting_up_minutes": "30",
    }
    return usual | answers


def take(*people: Person, **wanted: Any) -> Booking:
    """Confirm a session from 16:00 to 18:00 on the day that is typed."""
    start = datetime(2026, 10, 14, 15, tzinfo=UTC)
    taken = make_booking(people=people, starts_at=start, **wanted)
    return confirm_booking(booking_id=taken.pk, by=taken.job.owner, at=NOON)


def sun_on(place: Place, on: date) -> str:
    """Say what the almanac's core, checked on its own, finds for a day."""
    day = light_day(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        on=on,
        tz=place.zone,
    )
    assert day.sunrise
    assert day.sunset
    rise, fall = (at.astimezone(place.zone) for at in (day.sunrise, day.sunset))
    return f"Sunrise {rise:%H:%M}, sunset {fall:%H:%M}"


def url(job: Job, rest: str = "") -> str:
    return f"/jobs/{job.pk}/session/{rest}"


def test_a_session_is_written_by_the_clock_of_its_place(
    browser: Browser, job: Job
) -> None:
    answer = browser.post(url(job), typed(make_place()), follow=True)

    booking = Booking.objects.get()
    assert booking.starts_at == datetime(2026, 10, 14, 14, tzinfo=UTC)
    assert booking.ends_at == datetime(2026, 10, 14, 17, 45, tzinfo=UTC)
    assert booking.status == BookingStatus.PROPOSED
    page = answer.content.decode()
    assert "The session is Wed 14 Oct 2026, 15:00–18:45." in page
    assert "in 115 days; set-up from 14:30" in page


def test_people_items_and_whole_kits_are_wanted(
    browser: Browser, job: Job, ada: Person
) -> None:
    lens, tripod = make_item("85 mm", KitCategory.LENS), make_item()
    flash, old = make_item("Flash", KitCategory.FLASH), make_item("Old stand")
    kit = keep_kit(
        name="Outdoors", item_ids=[flash.pk, lens.pk, old.pk], by=ada, at=NOON
    )
    retire_item(item_id=old.pk, by=ada, at=NOON)
    answers = typed(
        make_place(),
        people=[ada.pk],
        whole_kits=[kit.pk],
        items_support=[tripod.pk],
    )

    browser.post(url(job), answers)

    wanted = set(Reservation.objects.values_list("resource", flat=True))
    assert wanted == {
        f"person:{ada.pk}",
        f"kit:{lens.pk}",
        f"kit:{tripod.pk}",
        f"kit:{flash.pk}",
    }


def test_an_end_before_the_start_is_the_next_days(browser: Browser, job: Job) -> None:
    browser.post(url(job), typed(make_place(), starts="22:00", ends="01:30"))

    booking = Booking.objects.get()
    assert booking.ends_at - booking.starts_at == timedelta(hours=3, minutes=30)
    assert "22:00–01:30 on Thu" in browser.get(job.get_absolute_url()).content.decode()


def test_a_new_place_is_kept_with_the_clock_of_its_coordinates(
    browser: Browser, job: Job
) -> None:
    answers = typed(
        new_name=LONG[:300],
        new_address="Havnegata 1\nTromsø",
        new_position="https://maps.example/@69.65,18.96,12z",
        day="2026-06-22",
    )

    page = browser.post(url(job), answers, follow=True).content.decode()

    place = Place.objects.get()
    assert (place.latitude_deg, place.longitude_deg) == TROMSOE
    assert place.time_zone == "Europe/Oslo"
    assert place.name == LONG[:300].strip()
    assert Booking.objects.get().starts_at == datetime(2026, 6, 22, 13, tzinfo=UTC)
    assert "by Oslo time" in page


def test_a_new_place_needs_a_name_and_a_position(browser: Browser, job: Job) -> None:
    page = browser.post(url(job), typed()).content.decode()
    swapped = browser.post(url(job), typed(new_name="X", new_position="118.2, 34.1"))

    assert "Give the new place a name." in page
    assert "Paste where it is" in page
    assert "these look swapped" in swapped.content.decode()
    assert not Place.objects.exists()


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"place": ""}, "Choose “Place”."),
        ({"place": "77"}, "Select a valid choice"),
        ({"day": ""}, "Fill in “Date”."),
        ({"day": "soon"}, "Write a day that exists"),
        ({"starts": "7"}, "7 could be morning or afternoon"),
        ({"ends": "25:00"}, "Write a time such as 15:00"),
        ({"setting_up_minutes": "-5"}, "greater than or equal to 0"),
        ({"setting_up_minutes": "9999"}, "less than or equal to 720"),
        ({"people": ["0"]}, "Select a valid choice"),
        ({"weather_decision": "x" * 301}, "at most 300 characters"),
    ],
)
def test_bad_input_gets_its_sentence_and_nothing_is_kept(
    browser: Browser, job: Job, answers: dict[str, Any], said: str
) -> None:
    page = browser.post(url(job), typed(make_place(), **answers))

    assert page.status_code == 200
    assert said in page.content.decode()
    assert not Booking.objects.exists()


def test_when_the_clocks_go_back_the_start_is_asked_about(
    browser: Browser, job: Job
) -> None:
    # The clocks of the United Kingdom go back on Sunday 25 October 2026 at 01:00 UTC.
    place = make_place()
    night = {"day": "2026-10-25", "starts": "01:30", "ends": "04:00"}

    asked = browser.post(url(job), typed(place, **night)).content.decode()
    browser.post(url(job), typed(place, which="second", **night))

    assert "01:30 comes twice on 25 October 2026" in asked
    assert Booking.objects.get().starts_at == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("answer", "hour"), [("first", 0), ("second", 1)], ids=["first", "second"]
)
def test_an_end_in_the_double_hour_is_asked_about_too(
    browser: Browser, job: Job, answer: str, hour: int
) -> None:
    place = make_place()
    night = {"day": "2026-10-24", "starts": "23:00", "ends": "01:30"}

    asked = browser.post(url(job), typed(place, **night)).content.decode()
    browser.post(url(job), typed(place, which_end=answer, **night))

    assert "01:30 comes twice on 25 October 2026" in asked
    booking = Booking.objects.get()
    assert booking.ends_at == datetime(2026, 10, 25, hour, 30, tzinfo=UTC)
    shown = browser.get(job.get_absolute_url()).content.decode()
    assert f"23:00–01:30 {'GMT' if hour else 'BST'} on Sun" in shown


def test_after_the_second_half_past_one_only_the_second_end_is_left(
    browser: Browser, job: Job
) -> None:
    night = {"day": "2026-10-25", "starts": "01:10", "which": "second"}

    browser.post(url(job), typed(make_place(), ends="01:50", **night))

    booking = Booking.objects.get()
    assert booking.ends_at - booking.starts_at == timedelta(minutes=40)


def test_the_answer_is_kept_when_the_session_is_opened_again(
    browser: Browser, job: Job
) -> None:
    place = make_place()
    night = {"day": "2026-10-25", "starts": "01:30", "ends": "04:00"}
    browser.post(url(job), typed(place, which="second", **night))

    page = browser.get(url(job)).content.decode()

    assert '<input type="hidden" name="which" value="second"' in page


def test_an_hour_that_the_clocks_skip_is_refused(browser: Browser, job: Job) -> None:
    # The clocks of the United Kingdom go forward on Sunday 28 March 2027 at 01:00 UTC.
    spring = {"day": "2027-03-28", "starts": "01:30", "ends": "04:00"}

    page = browser.post(url(job), typed(make_place(), **spring)).content.decode()

    assert "01:30 does not exist on 28 March 2027" in page
    assert not Booking.objects.exists()


def echo(browser: Browser, job: Job, answers: dict[str, Any]) -> str:
    return browser.get(url(job, "echo/"), answers).content.decode()


def test_the_echo_tells_the_sun_and_whether_all_is_free(
    browser: Browser, job: Job, ada: Person
) -> None:
    place = make_place()

    said = echo(browser, job, typed(place, people=[ada.pk]))

    assert said == f"Wednesday. {sun_on(place, date(2026, 10, 14))}. Free."


def test_the_echo_names_the_clash(browser: Browser, job: Job, ada: Person) -> None:
    take(ada)

    said = echo(browser, job, typed(make_place(), people=[ada.pk]))
    without = echo(browser, job, typed(make_place()))

    assert "Ada Vane is taken on Wed 14 Oct 2026 from 16:00 to 18:00" in said
    assert "Free, though at the same time there is Shop portraits." in without


def test_the_echo_of_a_session_does_not_clash_with_itself(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking(people=(ada,))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    page = browser.get(url(booking.job)).content.decode()

    sun = sun_on(booking.place, date(2026, 7, 1))
    assert f"Wednesday. {sun}. Free." in page


def test_the_echo_knows_a_night_without_end_and_a_day_without_one(
    browser: Browser, job: Job
) -> None:
    north: dict[str, Any] = {"new_name": "Fjord", "new_position": "69.65, 18.96"}

    summer = echo(browser, job, typed(day="2026-06-24", **north))
    winter = echo(browser, job, typed(day="2026-12-21", **north))

    assert summer == "Wednesday. The sun does not set. Free."
    assert winter == "Monday. The sun does not rise. Free."


def test_the_echo_says_what_it_can_of_half_an_answer(
    browser: Browser, job: Job
) -> None:
    place = make_place()

    assert echo(browser, job, {}) == ""
    assert echo(browser, job, {"day": "2026-10-14"}) == "Wednesday."
    assert echo(browser, job, {"day": "2026-10-14", "place": place.pk}).startswith(
        "Wednesday. Sunrise"
    )
    night = typed(place, day="2026-10-25", starts="01:30", ends="05:00")
    assert "01:30 comes twice" in echo(browser, job, night)
    late = echo(browser, job, typed(place, ends="01:30"))
    assert "Ends on Thursday at 01:30." in late


def test_the_echo_holds_no_markup_of_a_title(browser: Browser, ada: Person) -> None:
    ugly = make_job('<img src="file:///etc/passwd"/> & Söhne', by=ada)
    take(ada, job=ugly)

    said = echo(browser, make_job(by=ada), typed(make_place(), people=[ada.pk]))

    assert "&lt;img src=" in said
    assert "<img" not in said


def test_the_clock_of_a_pasted_position_is_told(browser: Browser) -> None:
    told = browser.get("/kit/places/clock/", {"new_position": "69.65, 18.96"})
    wrong = browser.get("/kit/places/clock/", {"coordinates": "<b>north</b>"})

    assert told.content.decode() == (
        "69.650 N, 18.960 E. Clock of Europe/Oslo: now 14:00."
    )
    assert "Paste latitude and longitude" in wrong.content.decode()
    assert browser.get("/kit/places/clock/").content == b""


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

    page = browser.post(f"/jobs/sessions/{booking.pk}/{act}/", follow=True)

    booking.refresh_from_db()
    assert booking.status == status
    assert 'class="success"' in page.content.decode()


@pytest.mark.parametrize("act", ["confirm", "let-go", "cancel"])
def test_what_cannot_be_done_is_refused_in_a_sentence(
    browser: Browser, ada: Person, act: str
) -> None:
    booking = make_booking()
    cancel_booking(booking_id=booking.pk, by=ada, at=NOON)

    page = browser.post(
        f"/jobs/sessions/{booking.pk}/{act}/", follow=True
    ).content.decode()

    assert "A cancelled booking cannot become" in page


def test_calling_off_asks_first_and_nothing_is_done_by_looking(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking()

    page = browser.get(f"/jobs/sessions/{booking.pk}/cancel/").content.decode()

    booking.refresh_from_db()
    assert "it cannot be taken up again" in page
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
