"""One frame against the plan: stops, words, what is refused, what a place keeps."""

from datetime import UTC, time, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.readings.forms import ReadingForm
from planning.readings.models import Reading
from planning.readings.operations import (
    AlreadySentError,
    Frame,
    NotOfThisSessionError,
    keep_reading,
)
from planning.readings.queries import (
    moment_of,
    place_readings,
    planned_at,
    verdict_words,
)
from planning.shoots.models import SetUp
from planning.shoots.queries import planned_shoot
from studio.people.models import Person
from tests.make_planning import EVENING, make_shoot

START = EVENING.astimezone(UTC)


def owner() -> Person:
    found = Person.objects.order_by("pk").first()
    assert found is not None
    return found


def frame(set_up: SetUp | None, *, shutter_s: float, key: str = "") -> Frame:
    return Frame(
        f_number=4.0,
        shutter_s=shutter_s,
        iso=100.0,
        set_up_id=set_up.pk if set_up else None,
        client_key=key or str(uuid4()),
    )


def set_up_of(booking: Booking, position: int) -> SetUp:
    rows = SetUp.objects.filter(plan__booking=booking).order_by("position")
    return rows[position]


@pytest.mark.django_db
def test_a_frame_twice_as_long_as_planned_is_a_stop_darker() -> None:
    # EV = log2(N^2/t) at ISO 100 (ISO 2720): at f/4, t for the planned level P is
    # 16 / 2^P; a frame that needed twice that says that there was half the light.
    booking = make_shoot()
    row = set_up_of(booking, 0)
    at = row.starts_at + timedelta(minutes=10)
    shoot = planned_shoot(booking)
    level = planned_at(shoot, shoot.set_ups[0], at)
    assert level is not None

    kept = keep_reading(
        booking=booking,
        frame=frame(row, shutter_s=2.0 * 16.0 / 2.0**level),
        by=owner(),
        at=at,
    )

    assert kept.change_stops == pytest.approx(-1.0, abs=1e-9)
    assert verdict_words(kept.change_stops) == "1.0 stop darker than planned"


@pytest.mark.django_db
def test_a_flash_lit_set_up_is_not_compared() -> None:
    booking = make_shoot()
    row = set_up_of(booking, 3)

    kept = keep_reading(
        booking=booking, frame=frame(row, shutter_s=0.01), by=owner(), at=row.starts_at
    )

    assert kept.change_stops is None
    assert "not comparable" in verdict_words(kept.change_stops)


@pytest.mark.django_db
def test_the_same_frame_sent_twice_is_kept_once() -> None:
    booking = make_shoot()
    one = frame(set_up_of(booking, 0), shutter_s=0.01, key="phone-0001")

    for _ in range(2):
        keep_reading(booking=booking, frame=one, by=owner(), at=START)

    assert Reading.objects.count() == 1


@pytest.mark.django_db
def test_another_frame_under_a_key_that_was_sent_is_not_lost() -> None:
    booking = make_shoot()
    row = set_up_of(booking, 0)
    first, second = (
        frame(row, shutter_s=shutter_s, key="page-0001") for shutter_s in (0.01, 0.02)
    )
    keep_reading(booking=booking, frame=first, by=owner(), at=START)

    with pytest.raises(AlreadySentError, match="Open it again"):
        keep_reading(booking=booking, frame=second, by=owner(), at=START)


@pytest.mark.django_db
def test_a_set_up_of_nobody_is_refused() -> None:
    booking = make_shoot()
    stray = Frame(
        f_number=4.0,
        shutter_s=0.01,
        iso=100.0,
        set_up_id=999_999,
        client_key="abcdefgh",
    )

    with pytest.raises(NotOfThisSessionError):
        keep_reading(booking=booking, frame=stray, by=owner(), at=START)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (0.0, "as planned"),
        (-0.19, "as planned"),
        (-0.7, "0.7 stop darker than planned"),
        (1.6, "1.6 stops brighter than planned"),
    ],
)
def test_the_verdict_in_words(change: float, words: str) -> None:
    assert verdict_words(change) == words


@pytest.mark.parametrize(
    ("f_number", "shutter", "iso", "exact"),
    [
        # Exact stops are powers of two: f/5.6 is 2^2.5, 1/250 is 1/256, ISO 400 is 400.
        ("f/5.6", "1/250", "400", (2.0**2.5, 1 / 256, 400.0)),
        ("5,6", "250", "ISO 400", (2.0**2.5, 1 / 256, 400.0)),
        ("F5.6", "2s", "iso400", (2.0**2.5, 2.0, 400.0)),
    ],
)
def test_settings_are_read_as_cameras_say_them(
    f_number: str, shutter: str, iso: str, exact: tuple[float, float, float]
) -> None:
    form = ReadingForm(
        {"f_number": f_number, "shutter": shutter, "iso": iso, "client_key": "abcdefgh"}
    )

    assert form.is_valid(), form.errors
    found = tuple(form.cleaned_data[name] for name in ("f_number", "shutter", "iso"))
    assert found == pytest.approx(exact)


@pytest.mark.parametrize(
    ("f_number", "shutter", "iso", "field"),
    [
        ("wide open", "1/250", "400", "f_number"),
        ("0", "1/250", "400", "f_number"),
        ("f/90", "1/250", "400", "f_number"),
        ("f/4", "0", "400", "shutter"),
        ("f/4", "1/0", "400", "shutter"),
        ("f/4", "nan", "400", "shutter"),
        ("f/4", "1/250", "-5", "iso"),
        ("f/4", "1/250", "7", "iso"),
    ],
)
def test_what_no_camera_says_is_refused_beside_its_box(
    f_number: str, shutter: str, iso: str, field: str
) -> None:
    form = ReadingForm(
        {"f_number": f_number, "shutter": shutter, "iso": iso, "client_key": "abcdefgh"}
    )

    assert list(form.errors) == [field]


@pytest.mark.django_db
def test_the_page_keeps_a_frame_and_the_place_remembers_it() -> None:
    booking = make_shoot()
    client = Client()
    client.force_login(owner())
    address = reverse("planning:readings", args=[booking.pk])

    wrong = client.post(address, {"f_number": "x", "client_key": "abcdefgh"})
    client.post(
        address,
        {
            "f_number": "4",
            "shutter": "1/250",
            "iso": "400",
            "taken_at": "15:20",
            "set_up": str(set_up_of(booking, 0).pk),
            "client_key": "abcdefgh",
        },
    )

    assert wrong.status_code == 422
    assert Reading.objects.get().read_at == START + timedelta(minutes=20)
    held = place_readings(booking.place)
    assert [one.settings for one in held.rows] == ["f/4, 1/250 s, ISO 400"]
    assert (
        "What worked here"
        in client.get(booking.place.get_absolute_url()).content.decode()
    )


@pytest.mark.django_db
def test_a_frame_from_paper_needs_its_time() -> None:
    booking = make_shoot()
    client = Client()
    client.force_login(owner())

    answer = client.post(
        reverse("planning:readings", args=[booking.pk]),
        {"f_number": "4", "shutter": "1/250", "iso": "400", "client_key": "abcdefgh"},
    )

    assert answer.status_code == 422
    assert "Say at what time the frame was taken" in answer.content.decode()
    assert not Reading.objects.exists()


@pytest.mark.django_db
def test_a_time_is_one_of_the_sessions_own_day() -> None:
    # The session runs from 15:00 to 18:45 in London; three hours either side are its.
    booking = make_shoot()
    during = START + timedelta(hours=1)

    assert moment_of(booking, None, during) == during
    assert moment_of(booking, None, START - timedelta(hours=4)) is None
    assert moment_of(booking, time(18, 5), during) == START + timedelta(minutes=185)
    assert moment_of(booking, time(1), during) == START + timedelta(hours=10)
