from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.operations import confirm_booking
from jobs.calendars.models import BusyCalendar, BusyTime
from jobs.enquiries.queries import by_reason, by_source, free_times, reply_text
from jobs.jobs.choices import LostReason, Source
from jobs.jobs.models import Job
from jobs.jobs.operations import Enquiry, close_as_lost, mark_booked, open_job
from studio.mail.models import Message
from studio.panels import today_items
from studio.people.models import Person
from studio.people.policy import Hat
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

LONDON = ZoneInfo("Europe/London")
DAY = timedelta(days=1)


@pytest.fixture
def ada() -> Person:
    make_profile(guide_words="A session is £260.")
    return make_person()


@pytest.fixture
def job(ada: Person) -> Job:
    return make_job("Thorn family", client=make_client("Ilse Thorn"), by=ada)


def offered(ada: Person, near: date | None = None) -> list[str]:
    found = free_times(ada.pk, near=near, at=NOON, zone=LONDON)
    return [f"{one.start.astimezone(LONDON):%a %d %b %H:%M}" for one in found]


def test_the_soonest_free_times_are_offered(ada: Person) -> None:
    # NOON is a Sunday in June: 12:00 UTC, 13:00 in London; from the third day on.
    assert offered(ada) == ["Wed 24 Jun 10:00", "Thu 25 Jun 10:00"]


def test_times_that_are_held_or_busy_are_not_offered(ada: Person) -> None:
    start = datetime(2026, 6, 24, 9, 0, tzinfo=UTC)  # 10:00 in London
    booking = make_booking(people=(ada,), starts_at=start, hours=1)
    confirm_booking(booking_id=booking.pk, by=ada, at=NOON)
    own = BusyCalendar.objects.create(person=ada, name="Own", read_next_at=NOON)
    BusyTime.objects.create(
        calendar=own, person=ada, starts_at=start + DAY, ends_at=start + 2 * DAY
    )
    make_booking(people=(ada,), starts_at=start + 2 * DAY)  # proposed: holds nothing

    # Wednesday: the set-up from 9:30 to the end at 11:00 is held, the afternoon free;
    # Thursday is busy until Friday at 10:00.
    assert offered(ada) == ["Wed 24 Jun 14:00", "Fri 26 Jun 10:00"]


def test_times_around_the_wished_day_come_first(ada: Person) -> None:
    # 15 August 2026 is a Saturday; the day after it is left out as a Sunday.
    assert offered(ada, date(2026, 8, 15)) == ["Fri 14 Aug 10:00", "Sat 15 Aug 10:00"]
    assert offered(ada, date(2026, 8, 16))[1] == "Sun 16 Aug 10:00"
    assert offered(ada, date(2020, 1, 1)) == offered(ada)


def test_an_answer_is_shown_changed_and_sent(
    client: Browser, ada: Person, job: Job
) -> None:
    client.force_login(ada)
    page = client.get(f"/jobs/{job.pk}/reply/").content.decode()
    assert "A session is £260." in page
    assert "Wednesday 24 June, from 10:00" in page

    client.post(
        f"/jobs/{job.pk}/reply/",
        {"subject": "Your family", "words": "Hello Ilse", "nudge_on": "2026-06-28"},
    )

    job.refresh_from_db()
    message = Message.objects.get()
    assert (message.address, message.body) == ("meyer@example.org", "Hello Ilse")
    assert (job.answered_at, job.nudge_on) == (NOON, date(2026, 6, 28))
    client.post(f"/jobs/{job.pk}/reply/", {"subject": "Again", "words": "Still here"})
    assert Message.objects.count() == 2


def test_each_text_holds_what_it_says(job: Job) -> None:
    guide, dates, both, plain = (
        reply_text(kind, job, at=NOON) for kind in ("guide", "dates", "both", "plain")
    )

    assert [
        ("£260" in one, "24 June" in one) for one in (guide, dates, both, plain)
    ] == [
        (True, False),
        (False, True),
        (True, True),
        (False, False),
    ]
    assert all(one.startswith("Hello Ilse Thorn,") for one in (guide, dates, plain))


def test_an_answer_stands_on_today_until_given_and_again_on_its_day(
    client: Browser, ada: Person, job: Job
) -> None:
    def titles(at: datetime) -> list[tuple[str, str]]:
        items = today_items(ada, at, [Hat.OWNER])
        return [(one.group, one.title) for one in items if "Thorn" in one.title]

    wanted = "Answer Ilse Thorn about Thorn family"
    assert titles(NOON) == [("soon", wanted)]
    assert titles(NOON + 3 * DAY) == [("late", wanted)]
    reason = today_items(ada, NOON + 3 * DAY, [Hat.OWNER])[0].reason
    assert reason.startswith("Came 3 days ago, Sun 21 Jun. Ada Vane promised")

    client.force_login(ada)
    client.post(f"/jobs/{job.pk}/answered/", {"nudge_on": "2026-06-28"})

    assert titles(NOON + 3 * DAY) == []
    assert titles(NOON + 7 * DAY) == [
        ("today", "Ask Ilse Thorn again about Thorn family")
    ]


def test_whose_an_enquiry_is_and_by_when_can_be_changed(
    client: Browser, ada: Person, job: Job
) -> None:
    client.force_login(ada)
    ben = make_person("Ben Orme", hats="planner")

    client.post(
        f"/jobs/{job.pk}/edit/",
        {
            "title": job.title,
            "came_in": "POST",
            "source": "RECOMMENDED",
            "came_by": "by Piers",
            "owner": ben.pk,
            "reply_by_on": "2026-06-30",
        },
    )

    job.refresh_from_db()
    assert (job.owner, job.reply_by_on) == (ben, date(2026, 6, 30))
    assert (job.came_in, job.source, job.came_by) == ("POST", "RECOMMENDED", "by Piers")


def test_without_an_address_an_answer_is_not_sent_and_not_lost(
    client: Browser, ada: Person, job: Job
) -> None:
    client.force_login(ada)
    job.client.email = ""
    job.client.save()

    page = client.post(f"/jobs/{job.pk}/reply/", {"subject": "S", "words": "My words"})

    job.refresh_from_db()
    assert "no e-mail address" in page.content.decode()
    assert "My words" in page.content.decode()
    assert job.answered_at is None


def asked(ada: Person, source: str) -> Job:
    enquiry = Enquiry(title="Work", source=source)
    return open_job(client=make_client(), enquiry=enquiry, by=ada, at=NOON)


def test_won_and_lost_are_counted_by_source(
    client: Browser, ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    won, lost, open_one = (asked(ada, Source.RECOMMENDED) for _ in range(3))
    mark_booked(job_id=won.pk, by=ada, at=NOON)
    close_as_lost(job_id=lost.pk, because="x", reason=LostReason.PRICE, by=ada, at=NOON)
    close_as_lost(job_id=asked(ada, "").pk, because="x", by=ada, at=NOON)
    assert open_one.is_open

    with django_assert_num_queries(2):
        sources, reasons = by_source(at=NOON), by_reason(at=NOON)

    assert [
        (one.label, one.asked, one.won, one.lost, one.undecided, one.share)
        for one in sources
    ] == [
        ("Recommended", 3, 1, 1, 1, "50%"),
        ("Not known", 1, 0, 1, 0, "0%"),
    ]
    assert reasons == [("Not noted", 1), ("The price", 1)]
    assert by_source(at=NOON + 400 * DAY) == []
    client.force_login(ada)
    assert "Recommended" in client.get("/jobs/sources/").content.decode()


def test_why_a_job_was_lost_is_a_choice_with_words(
    client: Browser, ada: Person, job: Job
) -> None:
    client.force_login(ada)
    path = f"/jobs/{job.pk}/lost/"
    assert "Answer “What was it?”." in client.post(path, {}).content.decode()
    assert "Say what it was." in client.post(path, {"reason": "OTHER"}).content.decode()

    client.post(path, {"reason": "PRICE"})

    job.refresh_from_db()
    assert (job.stage, job.lost_reason) == ("LOST", LostReason.PRICE)
    assert job.closed_because == "The price"
