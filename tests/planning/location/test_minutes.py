"""What to dial in at each minute: from the light of that minute, shifts in it."""

from datetime import UTC, timedelta
from itertools import pairwise
from math import log2

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.light.solve import dialled, suggest
from planning.location.minutes import STEP, Through, settings_through, steps_of
from planning.location.queries import location_page
from planning.shoots.levels import level_at
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import planned_shoot
from planning.shoots.requests import request_for
from studio.people.models import Person
from tests.make_planning import EVENING, make_shoot

pytestmark = pytest.mark.django_db
START = EVENING.astimezone(UTC)


@pytest.fixture
def shoot() -> PlannedShoot:
    return planned_shoot(make_shoot())


def through(shoot: PlannedShoot, position: int) -> Through:
    return settings_through(shoot, shoot.set_ups[position], steps_of(shoot))


def number(words: str) -> float:
    over, slash, under = words.removesuffix(" s").partition("/")
    return float(over) / float(under) if slash else float(over)


def test_the_table_runs_from_an_hour_before_to_an_hour_after(
    shoot: PlannedShoot,
) -> None:
    # The session runs from 15:00 to 18:45: 13:55 lies before its table, 14:00 in it.
    found = through(shoot, 0)

    assert found.rows[0].from_at == START - timedelta(minutes=60)
    assert found.until == START + timedelta(minutes=225 + 60)
    assert found.at(START - timedelta(minutes=61)) is None
    assert found.at(found.until) is None
    assert found.at(START - timedelta(minutes=60)) == found.rows[0]


def test_each_minute_exposes_for_its_own_light(shoot: PlannedShoot) -> None:
    # EV = log2(N^2 / t) - log2(S / 100) (ISO 2720). A step is worked out for its middle
    # and met to a sixth of a stop; dials name thirds, up to 0.14 stop off their exact
    # values (light sheet: nominal names drift), for each of three: 0.17 + 3 * 0.14.
    one = shoot.set_ups[0]
    found = through(shoot, 0)

    for minutes in range(0, 180, 15):
        middle = START + timedelta(minutes=minutes) + STEP / 2
        now = found.at(middle)
        assert now is not None
        level = level_at(shoot, one, shoot.light.moment(middle)).exposure_value
        f_number = float(now.f_number.removeprefix("f/"))
        speed = float(now.iso.removeprefix("ISO ")) / 100.0
        set_to = log2(f_number**2 / number(now.shutter) / speed)
        assert set_to == pytest.approx(level, abs=0.6)


def test_it_never_says_other_settings_than_the_plan_would(shoot: PlannedShoot) -> None:
    for one, row in zip(shoot.set_ups, shoot.rows, strict=True):
        level = level_at(shoot, one, shoot.light.moment(START + timedelta(minutes=70)))
        request = request_for(row, level, level, one.fill)
        quick, full = dialled(request), suggest(request)

        assert (quick.f_number, quick.shutter) == (full.f_number, full.shutter)
        assert (quick.iso, quick.fits) == (full.iso, full.fits)


def test_a_row_stands_only_where_something_changes(shoot: PlannedShoot) -> None:
    rows = through(shoot, 0).rows

    lines = [(one.line, one.fits) for one in rows]
    assert all(now != was for was, now in pairwise(lines))
    assert len(rows) > 5


def test_the_page_says_this_minute_and_far_from_it_the_plan(
    shoot: PlannedShoot,
) -> None:
    booking = Booking.objects.get()
    during = location_page(booking, at=START + timedelta(minutes=20)).set_ups[0]
    before = location_page(booking, at=START - timedelta(days=3)).set_ups[0]

    assert during.now is not None
    assert during.big == during.now
    assert before.now is None
    assert (before.big.f_number, before.big.iso) == (before.f_number, before.iso)


def test_without_script_the_table_is_on_the_page(
    shoot: PlannedShoot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "django.utils.timezone.now", lambda: START + timedelta(minutes=100)
    )
    client = Client()
    client.force_login(Person.objects.order_by("pk")[0])
    row = through(shoot, 0).at(START + timedelta(minutes=100))
    assert row is not None

    told = client.get(reverse("planning:location", args=[shoot.booking_id]))

    words = told.content.decode()
    assert "Now 16:40" in words
    assert "By the clock" in words
    assert f"<td>{row.line}" in words
    assert f'data-from="{row.from_at.astimezone(UTC).isoformat()}"' in words
