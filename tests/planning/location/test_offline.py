"""What a phone keeps without the network: sent late, sent twice, and forgotten."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.readings.models import Reading
from planning.shoots.models import SetUp
from planning.sites.models import SunMark
from studio.people.models import Person
from tests.make_planning import EVENING, make_shoot

pytestmark = pytest.mark.django_db
START = EVENING.astimezone(UTC)
NOW = START + timedelta(minutes=100)
MADE = START + timedelta(minutes=40)


@pytest.fixture
def booking(monkeypatch: pytest.MonkeyPatch) -> Booking:
    made = make_shoot()
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOW)
    return made


def phone() -> Client:
    client = Client(headers={"x-kept": "1"})
    client.force_login(Person.objects.order_by("pk")[0])
    return client


def frame(made: datetime, **fields: str) -> dict[str, str]:
    row = SetUp.objects.earliest("position")
    return {
        "f_number": "4",
        "shutter": "1/250",
        "iso": "400",
        "set_up": str(row.pk),
        "client_key": "0123456789abcdef",
        "made_at": made.isoformat(),
    } | fields


def test_a_kept_frame_has_the_minute_when_it_was_made_and_is_one(
    booking: Booking,
) -> None:
    client, address = phone(), reverse("planning:readings", args=[booking.pk])

    answers = [client.post(address, frame(MADE)) for _ in range(2)]

    assert [one.status_code for one in answers] == [200, 200]
    assert answers[0].content == answers[1].content
    assert "than planned" in answers[0].content.decode()
    assert Reading.objects.get().read_at == MADE


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (NOW + timedelta(minutes=3), "still to come"),
        (NOW - timedelta(days=4), "more than 3 days ago"),
        (START - timedelta(hours=8), "The session is on"),
    ],
)
def test_a_frame_of_an_impossible_time_is_refused_in_words(
    booking: Booking, made: datetime, words: str
) -> None:
    address = reverse("planning:readings", args=[booking.pk])

    answer = phone().post(address, frame(made))

    assert answer.status_code == 422
    assert answer["Content-Type"].startswith("text/plain")
    assert words in answer.content.decode()
    assert not Reading.objects.exists()


def test_what_no_camera_says_is_refused_with_its_field(booking: Booking) -> None:
    address = reverse("planning:readings", args=[booking.pk])

    answer = phone().post(address, frame(MADE, f_number="wide"))

    assert answer.status_code == 422
    assert answer.content.decode().startswith("f-number: Write it as the camera")


def test_sun_gone_is_marked_once_at_its_own_minute(booking: Booking) -> None:
    client, place = phone(), booking.place
    address = reverse("planning:sun_gone", args=[place.pk])
    sent = {"client_key": "fedcba9876543210", "made_at": MADE.isoformat()}

    answers = [client.post(address, sent).status_code for _ in range(2)]
    late = client.post(address, {"made_at": (NOW + timedelta(hours=1)).isoformat()})

    assert answers == [200, 200]
    assert SunMark.objects.get().seen_at == MADE
    assert late.status_code == 409
    assert "still to come" in late.content.decode()


def test_the_worker_knows_one_page_until_the_session_is_over(booking: Booking) -> None:
    page = reverse("planning:location", args=[booking.pk])
    until = int((booking.ends_at + timedelta(hours=3)).timestamp() * 1000)

    answer = phone().get(reverse("planning:location_worker", args=[booking.pk]))

    words = answer.content.decode()
    assert answer["Content-Type"].startswith("text/javascript")
    assert "worker-src 'self'" in answer["Content-Security-Policy"]
    assert "default-src 'none'" in answer["Content-Security-Policy"]
    assert f"const UNTIL = {until};" in words
    assert f'const PAGE = "{page}";' in words
    # The browser's own rule: a worker sees addresses below its own folder only.
    assert answer.request["PATH_INFO"] == f"{page}worker.js"


def test_a_phone_is_told_to_forget_when_nobody_is_signed_in(booking: Booking) -> None:
    page = reverse("planning:location", args=[booking.pk])

    inside = phone().get(page).content.decode()
    outside = Client().get(reverse("account_login")).content.decode()

    assert 'data-forget="over"' in inside
    assert 'data-forget="all"' in outside
