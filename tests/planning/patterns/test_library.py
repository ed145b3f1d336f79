"""The library of set-ups: kept, found, put into other plans, renamed, deleted."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.kits.models import KitItem
from planning.patterns.frozen import details_of, freeze, thaw
from planning.patterns.models import Anchor, SavedSetUp
from planning.patterns.operations import NoSunsetError, keep_set_up
from planning.shoots.models import SetUp
from planning.shoots.operations import start_plan
from planning.shoots.queries import planned_shoot
from tests.make import NOON, make_booking, make_job, make_person, make_place
from tests.make_planning import LONDON, make_set_up, make_shoot

pytestmark = pytest.mark.django_db


@pytest.fixture
def planner(client: Browser) -> Browser:
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return client


@pytest.fixture
def shoot() -> Booking:
    return make_shoot()


def at_place(booking: Booking, number: int) -> SetUp:
    return SetUp.objects.get(plan__booking=booking, position=number)


def spring_session() -> Booking:
    where = make_place("Another shore", latitude_deg=54.47, longitude_deg=-0.62)
    starts_at = datetime(2028, 4, 12, 17, tzinfo=LONDON)
    return make_booking(job=make_job(), place=where, starts_at=starts_at, hours=4)


def keep(set_up: SetUp, anchor: Anchor = Anchor.SUNSET) -> SavedSetUp:
    return keep_set_up(
        set_up=set_up,
        name=set_up.name,
        anchor=anchor,
        by=make_person(),
        at=NOON,
    )


def test_a_set_up_comes_back_as_it_was_kept(shoot: Booking) -> None:
    source = at_place(shoot, 4)
    source.shaded_from_at = source.starts_at + timedelta(minutes=12)
    source.facing_deg = 250.0
    source.save()

    back = thaw(freeze(source), starts_at=source.starts_at, booking=shoot)

    for name, value in details_of(back.row).items():
        assert value == getattr(source, name), name
    assert back.missing == ()


def test_a_kept_set_up_does_not_follow_the_one_it_was_kept_from(
    planner: Browser, shoot: Booking
) -> None:
    source = at_place(shoot, 1)
    saved = keep(source, Anchor.START)
    source.distance_m = 20.0
    source.save()
    there = spring_session()

    planner.post(f"/plan/{there.pk}/find/library/{saved.pk}/", {"start": "17:30"})

    assert at_place(there, 1).distance_m == 5.0


def test_a_time_by_sunset_moves_with_the_season(
    planner: Browser, shoot: Booking
) -> None:
    # skyfield 1.55 with DE421 sets the sun at 54.47, -0.62 at 17:07 UTC on 14 October
    # 2027 and at 18:59 UTC on 12 April 2028.
    source = at_place(shoot, 3)
    saved = keep(source)
    before = datetime(2027, 10, 14, 17, 7, tzinfo=UTC) - source.starts_at

    page = planner.get(f"/plan/{spring_session().pk}/find/").content.decode()

    starts_at = datetime(2028, 4, 12, 18, 59, tzinfo=UTC) - before
    shown = starts_at.astimezone(LONDON)
    near = {f"{shown + timedelta(minutes=n):%H:%M}" for n in (-1, 0, 1)}
    assert any(f">{clock}<" in page for clock in near)
    assert saved.time_words == f"{-saved.offset_minutes} min before sunset"


def test_the_camera_turns_so_that_the_sun_stands_as_it_did(
    planner: Browser, shoot: Booking
) -> None:
    saved = keep(at_place(shoot, 3))
    was = planned_shoot(shoot).set_ups[2].sun_turn_deg
    there = spring_session()
    url = f"/plan/{there.pk}/find/library/{saved.pk}/"

    planner.post(url, {"start": "18:30", "keep_sun": "on"})
    planner.post(url, {"start": "18:30"})

    followed, kept = planned_shoot(there).set_ups
    assert followed.sun_turn_deg == pytest.approx(was, abs=0.51)
    assert kept.facts.heading_deg == at_place(shoot, 3).camera_heading_deg


def test_looking_puts_nothing_into_the_plan(planner: Browser, shoot: Booking) -> None:
    saved = keep(at_place(shoot, 3))
    there = spring_session()
    url = f"/plan/{there.pk}/find/library/{saved.pk}/"

    seen = planner.get(url).content.decode()
    looked = planner.post(url, {"start": "19:00", "look": "1"}).content.decode()

    assert "f/" in seen
    assert "19:00–19:24" in looked
    assert not SetUp.objects.filter(plan__booking=there).exists()


def test_a_start_that_is_no_time_is_told(planner: Browser, shoot: Booking) -> None:
    saved = keep(at_place(shoot, 3))
    url = f"/plan/{spring_session().pk}/find/library/{saved.pk}/"

    page = planner.post(url, {"start": "later", "keep_sun": "on"})

    assert page.status_code == 422
    assert "Write a time such as" in page.content.decode()


def test_kit_that_is_gone_is_named_and_left_out(
    planner: Browser, shoot: Booking
) -> None:
    saved = keep(at_place(shoot, 4))
    KitItem.objects.filter(name="Battery flash").update(retired=True)
    there = spring_session()
    url = f"/plan/{there.pk}/find/library/{saved.pk}/"

    page = planner.get(url).content.decode()
    planner.post(url, {"start": "20:00"})

    assert "cannot have it: Battery flash." in page
    assert at_place(there, 1).flash is None


def test_an_earlier_set_up_is_found_by_job_client_and_name(
    planner: Browser, shoot: Booking
) -> None:
    url = f"/plan/{spring_session().pk}/find/"

    for words in ("Tidewater", "quartet press", "bow portr", "slipway"):
        assert "Bow portraits" in planner.get(url, {"q": words}).content.decode()
    assert "Bow portraits" not in planner.get(url, {"q": "zebra"}).content.decode()


def test_an_earlier_set_up_is_copied_with_its_time_moved_to_this_session(
    planner: Browser, shoot: Booking
) -> None:
    source = at_place(shoot, 1)
    source.shaded_from_at = source.starts_at + timedelta(minutes=5)
    source.save()
    there = spring_session()
    plan = start_plan(booking=there, by=make_person(), at=NOON)
    first = make_set_up(plan, there.starts_at, minutes=40)
    url = f"/plan/{there.pk}/find/earlier/{source.pk}/"

    start = first.ends_at.astimezone(LONDON)
    assert f'value="{start:%H:%M}"' in planner.get(url).content.decode()
    planner.post(url, {"start": f"{start:%H:%M}", "keep_sun": "on"})

    copy = at_place(there, 2)
    assert copy.starts_at == first.ends_at
    assert copy.shaded_from_at == first.ends_at + timedelta(minutes=5)
    assert copy.name == "Boathouse doors"


def test_the_library_is_kept_renamed_and_deleted_by_posting(
    planner: Browser, shoot: Booking
) -> None:
    source = at_place(shoot, 2)

    planner.post(f"/plan/set-up/{source.pk}/keep/", {"name": "Wall", "anchor": "start"})
    saved = SavedSetUp.objects.get()
    planner.post(f"/plan/library/{saved.pk}/", {"name": "Wall against the light"})
    assert "Wall against the light" in planner.get("/plan/library/").content.decode()
    assert saved.offset_minutes == 70
    planner.post(f"/plan/library/{saved.pk}/drop/")

    assert not SavedSetUp.objects.exists()
    assert SetUp.objects.filter(pk=source.pk).exists()


def test_two_of_one_name_are_refused(planner: Browser, shoot: Booking) -> None:
    keep(at_place(shoot, 1))
    url = f"/plan/set-up/{at_place(shoot, 2).pk}/keep/"

    page = planner.post(url, {"name": "BOATHOUSE doors", "anchor": "start"})

    assert page.status_code == 422
    assert "choose another name" in page.content.decode()
    assert SavedSetUp.objects.count() == 1


def test_where_the_sun_does_not_set_time_is_counted_from_the_start() -> None:
    # From memory: at 69.65° N the sun stays up from about 20 May to 22 July.
    place = make_place("Ytre fjord", latitude_deg=69.65, longitude_deg=18.96)
    start = datetime(2027, 6, 21, 20, tzinfo=UTC)
    booking = make_booking(job=make_job(), place=place, starts_at=start, hours=3)
    plan = start_plan(booking=booking, by=make_person(), at=NOON)
    row = make_set_up(plan, start)

    with pytest.raises(NoSunsetError):
        keep(row)

    assert keep(row, Anchor.START).time_words == "At the start of the session"


def test_a_bookkeeper_does_not_open_the_library(client: Browser) -> None:
    client.force_login(make_person("Cass Ives", hats="bookkeeper"))

    assert client.get("/plan/library/").status_code == 403
