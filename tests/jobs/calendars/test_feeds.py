from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.models import Booking
from jobs.bookings.operations import (
    BookingWish,
    cancel_booking,
    change_booking,
    confirm_booking,
    let_hold_lapse,
    pencil_booking,
)
from jobs.calendars.feeds import (
    close_feed,
    feed_file,
    live_link,
    open_feed,
    refresh_feeds,
    renew_feed,
)
from jobs.calendars.models import CalendarFeed, Detail, FeedEntry
from jobs.calendars.tasks import refresh_calendar_feeds
from studio.history.models import JournalEntry
from studio.links.operations import token_of
from studio.people.models import Person
from tests.jobs.calendars.readers import Meaning, meanings
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

DAY = timedelta(days=1)


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


def feed_of(person: Person, detail: str = Detail.TIMES) -> CalendarFeed:
    return open_feed(person=person, detail=detail, alarm_minutes=60, at=NOON)


def held(person: Person, *, days: int = 10) -> Booking:
    client = make_client("Orla Finch-Hale")
    booking = make_booking(
        job=make_job("Finch portraits", client=client, by=person),
        people=(person,),
        starts_at=NOON + timedelta(days=days),
    )
    return confirm_booking(booking_id=booking.pk, by=person, at=NOON)


def read(feed: CalendarFeed) -> list[Meaning]:
    refresh_feeds(at=NOON)
    return meanings(feed_file(feed, name="Ada’s sessions"))


def path_of(feed: CalendarFeed) -> str:
    link = live_link(feed, at=NOON)
    assert link is not None
    return f"/p/calendar/{token_of(link)}/"


def test_two_readers_make_the_same_of_a_feed_and_it_is_what_is_booked(
    ada: Person,
) -> None:
    feed, booking = feed_of(ada), held(ada)

    (event,) = read(feed)

    assert event == Meaning(
        uid=str(booking.uid),
        starts_at=booking.starts_at - timedelta(minutes=30),  # on site for set-up
        ends_at=booking.ends_at,
        title="Session with Orla",
        status="CONFIRMED",
        sequence=0,
        place="",
        words="Session 13:00 to 15:00, London time.",
        alarm=timedelta(minutes=-60),
    )


def test_a_session_in_the_hour_that_comes_twice_keeps_its_instants(ada: Person) -> None:
    # In the United Kingdom clocks go back at 01:00 UTC on the last Sunday of October
    # (Summer Time Order 2002); 01:30 comes twice on 25 October 2026.
    starts_at = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    booking = make_booking(people=(ada,), starts_at=starts_at, hours=1)
    pencil_booking(booking_id=booking.pk, until=None, by=ada, at=NOON)

    (event,) = read(feed_of(ada))

    assert event.starts_at == datetime(2026, 10, 25, 0, 0, tzinfo=UTC)
    assert event.ends_at == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


def test_words_with_every_sign_that_calendars_treat_apart_arrive_whole(
    ada: Person,
) -> None:
    title = "Zoë’s, “first”; family\\ session: " + "ä山" * 60
    place = make_place("Quay; north, pier", address="1 Row\nSandhaven")
    booking = make_booking(job=make_job(title[:200]), place=place, people=(ada,))
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    feed = feed_of(ada, Detail.PLACES)

    (event,) = read(feed)
    content = feed_file(feed, name="Ada")

    assert event.title == title[:200]
    assert event.place == "Quay; north, pier, 1 Row, Sandhaven"
    # RFC 5545, 3.1: lines end in CRLF and hold 75 octets at most.
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    assert b"\n" not in content.replace(b"\r\n", b"")


def test_a_pencilled_session_is_tentative_and_a_proposed_one_is_not_there(
    ada: Person,
) -> None:
    feed = feed_of(ada)
    booking = make_booking(people=(ada,))
    assert read(feed) == []

    pencil_booking(booking_id=booking.pk, until=NOON + DAY, by=ada, at=NOON)

    (event,) = read(feed)
    assert (event.status, event.title) == (
        "TENTATIVE",
        "Session with Meyer (pencilled)",
    )


def test_each_change_counts_and_the_name_of_the_event_stays(ada: Person) -> None:
    feed, booking = feed_of(ada), held(ada)
    (first,) = read(feed)

    for hour in (1, 2):
        wish = BookingWish(
            place=booking.place,
            starts_at=booking.starts_at + timedelta(hours=hour),
            ends_at=booking.ends_at + timedelta(hours=hour),
            person_ids=(ada.pk,),
        )
        change_booking(booking_id=booking.pk, wish=wish, by=ada, at=NOON)
        (now,) = read(feed)
        assert (now.uid, now.sequence) == (first.uid, hour)
        assert now.starts_at == first.starts_at + timedelta(hours=hour)
    assert read(feed) == [now]  # nothing changed, nothing counted


@pytest.mark.parametrize("how", ["cancel", "lapse", "without her"])
def test_what_is_off_is_told_as_cancelled_for_a_time(ada: Person, how: str) -> None:
    feed = feed_of(ada)
    booking = make_booking(people=(ada,), starts_at=NOON + 60 * DAY)
    pencil_booking(booking_id=booking.pk, until=NOON + DAY, by=ada, at=NOON)
    (before,) = read(feed)

    if how == "cancel":
        cancel_booking(booking_id=booking.pk, by=ada, at=NOON)
    elif how == "lapse":
        let_hold_lapse(booking_id=booking.pk, at=NOON)
    else:
        wish = BookingWish(
            place=booking.place, starts_at=booking.starts_at, ends_at=booking.ends_at
        )
        change_booking(booking_id=booking.pk, wish=wish, by=ada, at=NOON)

    (off,) = read(feed)
    assert (off.uid, off.status, off.sequence) == (before.uid, "CANCELLED", 1)
    assert off.alarm is None
    refresh_feeds(at=NOON + 29 * DAY)
    assert FeedEntry.objects.count() == 1
    refresh_feeds(at=NOON + 31 * DAY)
    assert not FeedEntry.objects.exists()


def test_a_session_that_comes_back_counts_on(ada: Person) -> None:
    feed = feed_of(ada)
    booking = make_booking(people=(ada,))
    pencil_booking(booking_id=booking.pk, until=NOON + DAY, by=ada, at=NOON)
    read(feed)
    let_hold_lapse(booking_id=booking.pk, at=NOON)
    read(feed)

    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)

    (event,) = read(feed)
    assert (event.status, event.sequence) == ("CONFIRMED", 2)


def test_a_feed_holds_nobody_elses_sessions(ada: Person) -> None:
    ben = make_person("Ben Orme", hats="planner")
    held(ben)

    assert read(feed_of(ada)) == []


def test_the_address_gives_the_feed_and_nothing_keeps_it(
    client: Browser, ada: Person
) -> None:
    feed = feed_of(ada)
    held(ada)
    refresh_calendar_feeds()

    answer = client.get(path_of(feed))

    assert answer.status_code == 200
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer["Cache-Control"] == "no-store"
    assert answer["X-Robots-Tag"] == "noindex, nofollow"
    assert len(meanings(answer.content)) == 1
    assert b"Finch" not in answer.content


def test_a_renewed_or_closed_address_opens_nothing(
    client: Browser, ada: Person
) -> None:
    feed = feed_of(ada)
    first = path_of(feed)

    renew_feed(person=ada, at=NOON)
    second = path_of(feed)

    assert client.get(first).status_code == 404
    assert client.get(second).status_code == 200
    close_feed(person=ada, at=NOON)
    assert client.get(second).status_code == 404
    verbs = JournalEntry.objects.filter(object_type="jobs.calendarfeed")
    assert list(verbs.values_list("verb", flat=True)) == ["opened", "renewed", "closed"]


def test_the_address_of_somebody_who_left_opens_nothing(
    client: Browser, ada: Person
) -> None:
    path = path_of(feed_of(ada))
    Person.objects.filter(pk=ada.pk).update(is_active=False)

    assert client.get(path).status_code == 404
    assert client.get("/p/calendar/no-such-token/").status_code == 404


def test_a_full_feed_takes_few_queries(
    client: Browser, ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    feed = feed_of(ada)
    for days in range(10, 30):
        held(ada, days=days)
    refresh_feeds(at=NOON)
    path = path_of(feed)

    # link, feed, two notes of the visit, the studio's row, the entries
    with django_assert_num_queries(6):
        answer = client.get(path)

    assert len(meanings(answer.content)) == 20
    with django_assert_num_queries(5):  # a savepoint's two, feeds, entries, sessions
        refresh_feeds(at=NOON)


def test_a_person_opens_changes_and_closes_their_feed(
    client: Browser, ada: Person
) -> None:
    client.force_login(ada)
    assert "there is an address" in client.get("/calendar/").content.decode()

    client.post("/calendar/", {"detail": "PLACES", "alarm": ""})

    feed = CalendarFeed.objects.get(person=ada)
    assert (feed.detail, feed.alarm_minutes) == (Detail.PLACES, None)
    page = client.get("/calendar/").content.decode()
    assert f"https://studio.example{path_of(feed)}" in page
    client.post("/calendar/renew/")
    assert f"https://studio.example{path_of(feed)}" not in page
    client.post("/calendar/close/")
    assert live_link(feed, at=NOON) is None
    refused = client.post("/calendar/", {"detail": "ALL", "alarm": "7"})
    assert "<title>Error: Your calendar" in refused.content.decode()
