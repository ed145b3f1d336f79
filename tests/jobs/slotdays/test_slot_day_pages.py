"""The pages of a slot day: the studio's, and those behind its links."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone

from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking
from jobs.slotdays.models import Sitting, SlotDay
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import token_of
from studio.people.models import Person
from tests.make import make_booking, make_person, make_profile

pytestmark = pytest.mark.django_db


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person("Ada")


@pytest.fixture
def booking(ada: Person) -> Booking:
    """A session of two hours, ten days from now, from ten o'clock UTC on."""
    now: datetime = timezone.now().replace(hour=10, minute=0, second=0, microsecond=0)
    booking = make_booking(starts_at=now + timedelta(days=10), people=(ada,))
    return confirm_booking(booking_id=booking.pk, by=ada, at=timezone.now())


def posted(booking: Booking, **fields: str) -> dict[str, str]:
    until = booking.local_start - timedelta(days=1)
    return {
        "minutes": "30",
        "gap": "0",
        "title": "Winter <portraits>",
        "words": "Bring the dog.",
        "price": "45",
        "closes_day": f"{until:%Y-%m-%d}",
        "closes_clock": "12:00",
    } | fields


@pytest.fixture
def day(booking: Booking, ada: Person, client: Browser) -> SlotDay:
    client.force_login(ada)
    client.post(f"/jobs/sessions/{booking.pk}/times/", posted(booking) | {"make": "1"})
    return SlotDay.objects.get(booking=booking)


def public(day: SlotDay, client: Browser) -> str:
    client.post(f"/jobs/sessions/{day.booking_id}/times/open/")
    client.logout()
    return f"/p/slot-day/{token_of(PrivateLink.objects.get())}/"


def test_times_are_shown_before_they_are_made(
    booking: Booking, ada: Person, client: Browser
) -> None:
    client.force_login(ada)
    page = f"/jobs/sessions/{booking.pk}/times/"
    start = booking.local_start

    looked = client.post(
        page,
        posted(
            booking,
            pause_from=f"{start + timedelta(minutes=30):%H:%M}",
            pause_to=f"{start + timedelta(minutes=45):%H:%M}",
        ),
    ).content.decode()
    bad = client.post(page, posted(booking, minutes="200", make="1"))

    assert "3 times</h2>" in looked
    assert "No sitting of this length fits the session." in bad.content.decode()
    assert not SlotDay.objects.exists()


def test_a_visitor_takes_a_time_changes_it_and_gives_it_back(
    day: SlotDay, client: Browser
) -> None:
    assert day.sittings.count() == 4
    page = public(day, client)
    first, second = day.sittings.all()[:2]

    shown = client.get(page).content.decode()
    nameless = client.post(page, {"sitting": first.pk, "name": "Bo", "note": "x"})
    done = client.post(
        page,
        {"sitting": first.pk, "name": "Bo <b>", "email": "bo@here.example"},
        follow=True,
    )
    own = done.request["PATH_INFO"]
    late = client.post(
        page, {"sitting": first.pk, "name": "Cy", "phone": "01632 960155"}
    ).content.decode()
    changed = client.post(own, {"change": "1", "sitting": second.pk}, follow=True)
    gone = client.post(own, {"back": "1"}).content.decode()

    assert "Winter &lt;portraits&gt;" in shown
    assert "Meyer" not in shown
    assert "Give an e-mail address or a phone number." in nameless.content.decode()
    assert "This time is yours." in done.content.decode()
    assert own.startswith("/p/sitting/")
    assert "This time is taken by now." in late
    assert 'value="Cy"' in late
    assert "Your time is changed." in changed.content.decode()
    assert "free again" in gone
    assert Sitting.objects.free().count() == 4
    assert client.get(own).status_code == 404


def test_a_page_that_is_closed_or_unknown_gives_no_times(
    day: SlotDay, client: Browser, ada: Person
) -> None:
    page = public(day, client)
    client.force_login(ada)
    client.post(f"/jobs/sessions/{day.booking_id}/times/close/")
    client.logout()

    assert "cannot be chosen here now" in client.get(page).content.decode()
    taken = client.post(
        page, {"sitting": day.sittings.all()[0].pk, "name": "B", "email": "b@b.example"}
    )
    assert taken.status_code == 422
    assert not Sitting.objects.taken().exists()
    assert client.get("/p/slot-day/no-such-token/").status_code == 404


def test_the_studio_gives_moves_frees_and_keeps_times(
    day: SlotDay, client: Browser
) -> None:
    first, second, third = day.sittings.all()[:3]

    def step(one: Sitting, **fields: object) -> int:
        return client.post(f"/jobs/sittings/{one.pk}/", fields).status_code

    assert step(first, step="take", name="") == 422
    assert step(first, step="take", name="Bo") == 302
    assert step(first, step="change", sitting=second.pk) == 302
    assert step(third, step="keep") == 302
    shown = client.get(day.get_absolute_url()).content.decode()
    assert "1 of 3 times taken" in shown
    assert "Kept back" in shown
    assert "Bo" in client.get(f"/jobs/sittings/{second.pk}/").content.decode()
    assert step(second, step="back") == 422
    assert step(second, step="back", because="Ill") == 302
    assert step(second, step="remove") == 302
    assert day.sittings.count() == 3
    added = client.post(
        day.get_absolute_url(),
        {"starts": f"{second.local_start:%H:%M}", "minutes": "20"},
    )
    assert added.status_code == 302
    assert day.sittings.count() == 4


def test_the_job_leads_to_its_times_and_a_sitter_to_theirs(
    day: SlotDay, client: Browser
) -> None:
    first = day.sittings.all()[0]
    client.post(f"/jobs/sittings/{first.pk}/", {"step": "take", "name": "Bo"})
    first.refresh_from_db()
    assert first.job is not None

    of_day = client.get(day.booking.job.get_absolute_url()).content.decode()
    of_sitter = client.get(first.job.get_absolute_url()).content.decode()
    table = client.get(f"/jobs/sessions/{day.booking_id}/times/csv/").content.decode()
    offer = client.post(
        f"/jobs/sessions/{day.booking_id}/times/offer/",
        posted(day.booking, title="Spring", price=""),
    )

    assert "1 of 4 times taken" in of_day
    assert f"/jobs/sittings/{first.pk}/" in of_sitter
    assert "Taken,Bo" in table
    assert offer.status_code == 302
    day.refresh_from_db()
    assert (day.title, day.price) == ("Spring", None)


def test_a_sitting_is_told_on_its_jobs_page_in_the_list_and_in_the_diary(
    day: SlotDay, client: Browser
) -> None:
    first = day.sittings.all()[0]
    client.post(f"/jobs/sittings/{first.pk}/", {"step": "take", "name": "Bo"})
    first.refresh_from_db()
    assert first.job is not None

    of_sitter = client.get(first.job.get_absolute_url()).content.decode()
    listed = client.get("/jobs/").content.decode()
    for view in ("week", "month"):
        on = f"{day.booking.local_start:%Y-%m-%d}"
        diary = client.get("/diary/", {"on": on, "view": view}).content.decode()
        assert diary.count("1 of 4 taken") == 1

    assert "a sitting of 30 minutes" in of_sitter
    assert "No date yet" not in of_sitter + listed
    assert "Prepare the session" in listed


def test_names_are_shown_as_they_are_and_run_nowhere(
    day: SlotDay, client: Browser
) -> None:
    client.post(f"/jobs/sessions/{day.booking_id}/times/open/")
    ugly = "=cmd|' /C calc'!A0 <script>alert(1)</script>"
    first = day.sittings.all()[0]
    client.post(f"/jobs/sittings/{first.pk}/", {"step": "take", "name": ugly})

    pages = [day.get_absolute_url(), day.booking.get_absolute_url()]
    shown = [client.get(page).content.decode() for page in pages]
    table = client.get(f"/jobs/sessions/{day.booking_id}/times/csv/").content.decode()

    assert all("&lt;script&gt;alert" in page for page in shown)
    assert not any("<script>alert" in page for page in shown)
    assert "'=cmd" in table
    token = token_of(PrivateLink.objects.get(purpose=LinkPurpose.SLOT_DAY))
    assert f"https://studio.example/p/slot-day/{token}/" in shown[0]
