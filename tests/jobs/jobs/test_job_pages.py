from datetime import timedelta

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.models import Attendee
from jobs.bookings.operations import (
    cancel_booking,
    confirm_booking,
    list_attendees,
    pencil_booking,
)
from jobs.jobs.models import Job
from jobs.jobs.operations import close_as_lost, mark_booked, mark_delivered, mark_shot
from jobs.jobs.queries import JobFilter, job_history, list_jobs
from jobs.jobs.states import JobStage
from studio.people.models import Person
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

UGLY = '<img src="file:///etc/passwd"/> & Söhne'
LONG = "Haus am Ende des sehr langen Weges, Ωμέγα, Север " * 6


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


@pytest.fixture
def browser(ada: Person) -> Browser:
    return as_(ada)


def as_(person: Person) -> Browser:
    browser = Browser()
    browser.force_login(person)
    return browser


def titles(chosen: JobFilter) -> list[str]:
    return [row.title for row in list_jobs(chosen, page="1", at=NOON).rows]


def test_the_list_shows_what_is_open_unless_asked_otherwise(ada: Person) -> None:
    kept, lost = make_job("Kept", by=ada), make_job("Lost", by=ada)
    close_as_lost(job_id=lost.pk, because="Price", by=ada, at=NOON)

    assert titles(JobFilter()) == [kept.title]
    assert titles(JobFilter(show="closed")) == [lost.title]
    assert titles(JobFilter(show="LOST")) == [lost.title]
    assert set(titles(JobFilter(show="all"))) == {"Kept", "Lost"}


@pytest.mark.parametrize(
    "words",
    [
        "shop",
        "SHOP PORTRAITS",
        "portraits shop",
        "J-2026",
        "мария",
        "Мария кравец",
        "ΜΑΡΊΑ",
    ],
)
def test_words_find_jobs_in_any_case_and_script(ada: Person, words: str) -> None:
    client = make_client("Мария Кравец", contact_name="Μαρία Πάππου")
    make_job("Shop portraits", client=client, by=ada)

    assert titles(JobFilter(words=words)) == ["Shop portraits"]


@pytest.mark.parametrize("words", ["bakery thursday", "%", "_", "\x00", "'; DROP"])
def test_words_that_fit_nothing_find_nothing(browser: Browser, words: str) -> None:
    make_job("Shop portraits", client=make_client("Meyer"))

    page = browser.get("/jobs/", {"q": words})

    assert page.status_code == 200
    if words != "\x00":
        assert "No job fits." in page.content.decode()


def test_by_session_the_next_one_stands_first_and_no_date_last(ada: Person) -> None:
    make_job("No date", by=ada)
    for title, days in (("Later", 20), ("Sooner", 5), ("Over", -5)):
        job = make_job(title, by=ada)
        make_booking(job=job, starts_at=NOON + timedelta(days=days))

    order = titles(JobFilter(by_session=True))

    assert order[:2] == ["Sooner", "Later"]
    assert set(order[2:]) == {"Over", "No date"}


def test_a_row_shows_the_next_session_by_the_clock_of_its_place(
    browser: Browser, ada: Person
) -> None:
    job = make_job(by=ada)
    oslo = make_place(LONG[:300], time_zone="Europe/Oslo")
    called_off = make_booking(job=job, place=oslo, starts_at=NOON + timedelta(days=1))
    cancel_booking(booking_id=called_off.pk, by=ada, at=NOON)
    make_booking(job=job, place=oslo, starts_at=NOON + timedelta(days=2))
    make_booking(job=job, place=oslo, starts_at=NOON - timedelta(days=9))

    page = browser.get("/jobs/").content.decode()

    assert "Tue 23 Jun 2026, 14:00" in page
    assert "(proposed)" in page
    assert "Mon 22 Jun 2026" not in page


def test_the_list_is_paged_and_keeps_its_filter(browser: Browser, ada: Person) -> None:
    for number in range(30):
        make_job(f"Job {number}", by=ada)

    page = browser.get("/jobs/?q=job&sort=session").content.decode()
    last = browser.get("/jobs/?page=99999999999999999999").content.decode()

    assert "30 jobs" in page
    assert "Page 1 of 2" in page
    assert "q=job&amp;sort=session&amp;page=2" in page
    assert "Page 2 of 2" in last


def test_the_list_takes_three_queries_however_long_it_is(
    ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for number in range(24):
        make_booking(job=make_job(f"Job {number}", by=ada))

    for by_session in (False, True):
        with django_assert_num_queries(3):
            found = list_jobs(JobFilter(by_session=by_session), page="1", at=NOON)
        assert len(found.rows) == 24


def test_an_empty_studio_is_shown_the_way_in(browser: Browser) -> None:
    assert "A job starts with an enquiry" in browser.get("/jobs/").content.decode()


def test_the_page_of_a_job_shows_its_four_facts(browser: Browser, ada: Person) -> None:
    client = make_client(
        UGLY, contact_name="Μαρία", phone="+441632960118", notes="Two cellos to shelter"
    )
    place = make_place(LONG[:300], address="Boathouse Lane\nSaltmere")
    booking = make_booking(job=make_job(UGLY, client=client, by=ada), place=place)
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    page = browser.get(booking.get_absolute_url()).content.decode()

    assert "<img src=" not in page
    for words in (
        "Quoted, then Booked, still to come",
        "Wed 1 Jul 2026,",
        "13:00–15:00",
        "in 10 days; set-up from 12:30",
        "Boathouse Lane, Saltmere",
        "54.470 N, 0.620 W",
        "01632 960118",
        "Two cellos to shelter",
        "&lt;img src=",
    ):
        assert words in page


def test_a_job_without_a_date_is_given_one(browser: Browser, ada: Person) -> None:
    job = make_job(by=ada)

    page = browser.get(job.get_absolute_url()).content.decode()

    assert "No date yet" in page
    assert f"/jobs/{job.pk}/session/" in page


def test_the_page_shows_what_the_session_keeps_and_who_comes(
    browser: Browser, ada: Person
) -> None:
    items = tuple(make_item(f"Item {number}") for number in range(6))
    booking = make_booking(job=make_job(by=ada), people=(ada,), items=items)
    guests = [Attendee(name="Jo Reed", role="cello", phone="+441632960119")]
    list_attendees(booking_id=booking.pk, attendees=guests, by=ada, at=NOON)
    pencil_booking(
        booking_id=booking.pk, until=NOON + timedelta(days=3), by=ada, at=NOON
    )

    page = browser.get(booking.get_absolute_url()).content.decode()

    assert "Kept for it" in page
    assert "6 items of kit" in page
    assert "Jo Reed</b>, cello" in page
    assert "until Wed 24 Jun, 13:00" in page


@pytest.mark.parametrize(
    ("hat", "sees"), [("owner", True), ("planner", False), ("bookkeeper", False)]
)
def test_only_the_owner_sees_the_history(hat: str, sees: bool) -> None:
    make_profile()
    job = make_job()

    page = as_(make_person(hats=hat)).get(job.get_absolute_url()).content.decode()

    assert ('id="history"' in page) is sees


def test_a_bookkeeper_sees_a_job_and_changes_nothing(ada: Person) -> None:
    booking = make_booking(job=make_job(by=ada))
    mark_booked(job_id=booking.job_id, by=ada, at=NOON)
    browser, path = as_(make_person(hats="bookkeeper")), booking.get_absolute_url()

    page = browser.get(path).content.decode()

    assert "What may come next" not in page
    for act in ("shot", "delivered", "lost", "cancel", "reopen"):
        assert browser.post(f"{path}{act}/").status_code == 403
    assert browser.get(f"{path}edit/").status_code == 403


def test_the_history_tells_job_and_session_in_words(ada: Person) -> None:
    booking = make_booking(job=make_job(by=ada))
    pencil_booking(booking_id=booking.pk, until=None, by=ada, at=NOON)
    make_job("Another", by=ada)

    told = [(line.who, line.what) for line in job_history(booking.job)]

    assert told == [
        ("Ada Vane", "pencilled the session in"),
        ("Ada Vane", "wrote the session down"),
        ("Ada Vane", "took the enquiry"),
    ]


def test_the_history_takes_one_query(
    ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    job = make_job(by=ada)
    for _ in range(5):
        make_booking(job=job)

    with django_assert_num_queries(1):
        assert len(job_history(job)) == 6


def test_a_job_is_marked_as_shot_and_delivered(browser: Browser, ada: Person) -> None:
    job = make_job(by=ada)
    mark_booked(job_id=job.pk, by=ada, at=NOON)
    path = job.get_absolute_url()

    browser.post(f"{path}shot/")
    shot = browser.get(path).content.decode()
    browser.post(f"{path}delivered/")

    assert "Pictures by Sun 12 Jul 2026" in shot
    assert Job.objects.get().stage == JobStage.DELIVERED


def test_a_session_that_is_to_come_is_asked_about_before_it_is_shot(
    browser: Browser, ada: Person
) -> None:
    booking = make_booking(job=make_job(by=ada))
    mark_booked(job_id=booking.job_id, by=ada, at=NOON)
    path = booking.get_absolute_url()

    page, asked = browser.get(path), browser.get(f"{path}shot/")

    assert f'href="{path}shot/"' in page.content.decode()
    assert "Wednesday 1 July 2026 at 13:00" in asked.content.decode()
    assert Job.objects.get().stage == JobStage.BOOKED


def test_a_job_is_closed_as_not_taken_with_its_reason_and_opened_again(
    browser: Browser, ada: Person
) -> None:
    job = make_job(by=ada)
    path = job.get_absolute_url()

    bare = browser.post(f"{path}lost/", {"because": ""}).content.decode()
    page = browser.post(
        f"{path}lost/", {"reason": "OTHER", "because": "Too far"}, follow=True
    )
    browser.post(f"{path}reopen/")

    assert "Answer “What was it?”." in bare
    assert "Too far" in page.content.decode()
    job.refresh_from_db()
    assert (job.stage, job.closed_because) == (JobStage.ENQUIRY, "")


def test_a_booked_job_is_called_off(browser: Browser, ada: Person) -> None:
    job = make_job(by=ada)
    mark_booked(job_id=job.pk, by=ada, at=NOON)
    path = job.get_absolute_url()

    asked = browser.get(f"{path}cancel/").content.decode()
    browser.post(f"{path}cancel/", {"because": "Illness"})

    assert "settle them under Money" in asked
    job.refresh_from_db()
    assert (job.stage, job.closed_because) == (JobStage.CANCELLED, "Illness")


def test_what_a_stage_does_not_allow_is_refused_in_a_sentence(
    browser: Browser, ada: Person
) -> None:
    job = make_job(by=ada)
    path = job.get_absolute_url()

    page = browser.post(f"{path}delivered/", follow=True).content.decode()
    form = browser.post(f"{path}cancel/", {"because": "Rain"}).content.decode()

    assert "cannot become “delivered”" in page
    assert "cannot become “cancelled”" in form


def test_title_and_wish_are_changed(browser: Browser, ada: Person) -> None:
    job = make_job(by=ada)

    browser.post(
        f"{job.get_absolute_url()}edit/",
        {
            "title": "Ωμέγα",
            "wish": "One\nTwo",
            "came_in": "PHONE",
            "owner": ada.pk,
            "reply_by_on": "2026-06-22",
        },
    )

    job.refresh_from_db()
    assert (job.title, job.wish, job.wished_on) == ("Ωμέγα", "One\nTwo", None)


@pytest.mark.parametrize("stage", JobStage)
def test_the_page_opens_at_every_stage(
    browser: Browser, ada: Person, stage: JobStage
) -> None:
    booking = make_booking(job=make_job(by=ada))
    Job.objects.update(stage=stage, closed_at=NOON)

    assert browser.get(booking.get_absolute_url()).status_code == 200


def test_shot_long_ago_and_delivered_stays_open_until_it_is_paid(ada: Person) -> None:
    job = make_job(by=ada)
    mark_booked(job_id=job.pk, by=ada, at=NOON)
    mark_shot(job_id=job.pk, by=ada, at=NOON)
    mark_delivered(job_id=job.pk, by=ada, at=NOON)

    assert titles(JobFilter()) == [job.title]
