from datetime import UTC, datetime, time, timedelta
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory
from planning.shoots.instants import instant_in
from planning.shoots.models import SetUp
from planning.shoots.operations import start_plan
from planning.shoots.queries import planned_shoot, quarter_hours
from planning.shoots.shown import shown_plan
from tests.make import make_booking, make_item, make_person, make_profile
from tests.make_planning import LONDON, make_set_up, make_shoot

pytestmark = pytest.mark.django_db
TYPED: dict[str, Any] = {
    "name": "On the sand",
    "start": "13:15",
    "minutes": "30",
    "frames": "90",
    "light": "open_sky",
    "shade": "nothing",
    "heading": "20",
    "people": "2",
    "depth_m": "0.4",
    "distance_m": "4",
    "movement": "standing",
    "focal_length_mm": "85",
    "support": "handheld",
    "aim": "balanced",
}


@pytest.fixture
def planner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return client


def test_a_set_up_is_added_and_the_settings_follow(planner: Browser) -> None:
    booking = make_booking()

    page = planner.post(f"/plan/{booking.pk}/new/", TYPED, follow=True)

    assert "is in the plan" in page.content.decode()
    one = planned_shoot(booking).set_ups[0]
    assert one.suggestion is not None
    assert one.suggestion.f_number.nominal in page.content.decode()
    assert SetUp.objects.get().starts_at == datetime(2026, 7, 1, 12, 15, tzinfo=UTC)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"name": ""}, "name"),
        ({"distance_m": "0"}, "0.1"),
        ({"depth_m": "9", "distance_m": "2"}, "behind the camera"),
        ({"light": "flash"}, "Choose the flash"),
        ({"heading": "400"}, "360"),
        ({"minutes": "nan"}, "whole number"),
        ({"focal_length_mm": "1e400"}, "number"),
    ],
)
def test_bad_input_gets_its_sentence_and_nothing_is_lost(
    planner: Browser, wrong: dict[str, str], words: str
) -> None:
    booking = make_booking()

    page = planner.post(f"/plan/{booking.pk}/new/", TYPED | wrong)

    text = page.content.decode()
    assert page.status_code == 422
    assert words in text
    assert "90" in text
    assert not SetUp.objects.exists()


def test_a_focal_length_that_the_lens_has_not_is_refused(planner: Browser) -> None:
    lens = make_item("85 mm", KitCategory.LENS, focal_length_mm=85.0)
    booking = make_booking()
    wrong = TYPED | {"lens": lens.pk, "focal_length_mm": "200"}

    page = planner.post(f"/plan/{booking.pk}/new/", wrong)

    assert "85 mm has 85 mm." in page.content.decode()


def test_settings_that_do_not_hold_say_so_on_page_and_paper(planner: Browser) -> None:
    night = datetime(2027, 10, 30, 23, tzinfo=LONDON)
    booking = make_booking(starts_at=night)
    planner.post(f"/plan/{booking.pk}/new/", TYPED | {"start": "23:10"})

    why = shown_plan(planned_shoot(booking)).set_ups[0].why

    assert why.startswith("Does not hold: ")
    assert "stops short" in why
    assert why[:24] in planner.get(f"/plan/{booking.pk}/").content.decode()


def test_another_sky_is_tried_out_before_it_is_planned_for(planner: Browser) -> None:
    booking = make_shoot()
    tried = planner.get(f"/plan/{booking.pk}/?sky=overcast").content.decode()
    assert "Plan for overcast" in tried
    assert planned_shoot(booking).sky_words == "clear"

    planner.post(f"/plan/{booking.pk}/sky/", {"sky": "overcast"})

    assert planned_shoot(booking).sky_words == "overcast"


def test_set_ups_are_moved_copied_and_taken_out_by_posting(planner: Browser) -> None:
    booking = make_shoot()
    first = SetUp.objects.order_by("position").first()
    assert first is not None
    assert planner.get(f"/plan/set-up/{first.pk}/down/").status_code == 405

    planner.post(f"/plan/set-up/{first.pk}/down/")
    planner.post(f"/plan/set-up/{first.pk}/copy/")
    planner.post(f"/plan/set-up/{first.pk}/remove/")

    assert [one.facts.number for one in planned_shoot(booking).set_ups] == [1, 2, 3, 4]
    assert not SetUp.objects.filter(pk=first.pk).exists()


def test_bookkeepers_see_no_plan(client: Browser) -> None:
    make_profile()
    client.force_login(make_person("Cass Ives", hats="bookkeeper"))

    assert client.get(f"/plan/{make_booking().pk}/").status_code == 403


def overnight() -> Booking:
    start = datetime(2027, 6, 20, 22, tzinfo=LONDON)
    return make_booking(starts_at=start, hours=3)


@pytest.mark.parametrize(("clock", "day"), [(time(22, 30), 20), (time(0, 30), 21)])
def test_a_clock_time_belongs_to_the_day_that_puts_it_in_the_session(
    clock: time, day: int
) -> None:
    at = instant_in(overnight(), clock)

    assert at.astimezone(LONDON) == datetime(
        2027, 6, day, clock.hour, clock.minute, tzinfo=LONDON
    )


def test_the_table_goes_by_quarters_and_by_longer_steps_for_a_long_day() -> None:
    start = datetime(2027, 6, 20, 9, 10, tzinfo=LONDON)

    short = quarter_hours(start, start + timedelta(hours=2))
    long = quarter_hours(start, start + timedelta(hours=12))

    assert short[0] == start.replace(minute=15)
    assert {one.minute for one in short} == {0, 15, 30, 45}
    assert len(long) <= 16


def test_the_plan_knows_the_light_at_the_end_of_a_set_up() -> None:
    booking = make_booking(starts_at=datetime(2027, 10, 14, 17, tzinfo=LONDON))

    plan = start_plan(booking=booking, by=booking.job.owner, at=booking.starts_at)
    make_set_up(plan, datetime(2027, 10, 14, 17, 30, tzinfo=LONDON), minutes=40)

    one = planned_shoot(booking).set_ups[0]

    assert one.end.exposure_value < one.start.exposure_value - 1.0
