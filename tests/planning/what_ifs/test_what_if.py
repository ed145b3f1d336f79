"""What if: each answer is what the plan itself says once it is changed so."""

from datetime import timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import choose_sky
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import planned_shoot
from planning.shoots.words import short_settings
from planning.what_ifs.changes import Change, nearest_lens
from planning.what_ifs.queries import WhatIf
from tests.make import NOON, make_booking, make_item, make_person
from tests.make_planning import make_shoot

pytestmark = pytest.mark.django_db


@pytest.fixture
def planner(client: Browser) -> Browser:
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return client


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def give_lens(booking: Booking, number: int, name: str, focal_length_mm: float) -> None:
    lens = KitItem.objects.get(name=name)
    rows = SetUp.objects.filter(plan__booking=booking, position=number)
    rows.update(lens=lens, focal_length_mm=focal_length_mm)


def settings_of(shoot: PlannedShoot) -> list[str]:
    return [
        short_settings(one.suggestion) if one.suggestion else "–"
        for one in shoot.set_ups
    ]


def as_saved(booking: Booking) -> list[tuple[str, list[str]]]:
    """Return each sky's settings of the plan as it is in the database."""
    found = []
    for word in SkyWord:
        plan = ShootPlan.objects.get(booking=booking)
        choose_sky(plan_id=plan.pk, sky=word, by=booking.job.owner, at=NOON)
        found.append((word.label, settings_of(planned_shoot(booking))))
    return found


def as_tried(booking: Booking, change: Change) -> list[tuple[str, list[str]]]:
    rows = WhatIf(booking, change).rows
    return [
        (word.label, [row.outcomes[place].settings for row in rows])
        for place, word in enumerate(SkyWord)
    ]


def test_every_sky_is_that_of_a_plan_saved_for_it(booking: Booking) -> None:
    tried = as_tried(booking, Change())

    assert tried == as_saved(booking)
    assert len({tuple(settings) for _, settings in tried}) == 4


@pytest.mark.parametrize("change", [{"late": "15"}, {"late": "-20", "start": "3"}])
def test_being_late_is_what_the_plan_says_once_it_is_moved(
    planner: Browser, booking: Booking, change: dict[str, str]
) -> None:
    before = {row.pk: row.starts_at for row in SetUp.objects.all()}
    first = int(change.get("start", "1"))
    late = Change(late_minutes=int(change["late"]), from_number=first)
    tried, planned = as_tried(booking, late), as_tried(booking, Change())

    planner.post(f"/plan/{booking.pk}/what-if/adopt/", change)

    for row in SetUp.objects.all():
        moved = timedelta(minutes=int(change["late"])) * (row.position >= first)
        assert row.starts_at == before[row.pk] + moved
    assert tried == as_saved(booking)
    assert tried != planned


def test_a_missing_lens_is_what_the_plan_says_once_it_is_changed(
    planner: Browser, booking: Booking
) -> None:
    give_lens(booking, 1, "85 mm", 85.0)
    lens = KitItem.objects.get(name="85 mm")
    tried = as_tried(booking, Change(missing_lens_id=lens.pk))

    page = planner.get(f"/plan/{booking.pk}/what-if/", {"lens": lens.pk})
    planner.post(f"/plan/{booking.pk}/what-if/adopt/", {"lens": lens.pk})

    row = SetUp.objects.get(position=1)
    assert (str(row.lens), row.focal_length_mm) == ("50 mm", 50.0)
    assert tried == as_saved(booking)
    # the thin lens: 85 mm at 5 m and 50 mm at 5 x 50 / 85 = 2.9 m frame alike
    text = page.content.decode()
    assert "50 mm at 50 mm instead of 85 mm" in text
    assert "1.7 × as wide; the same frame from 2.9 m" in text


def test_trying_saves_nothing(planner: Browser, booking: Booking) -> None:
    version = ShootPlan.objects.get().version
    before = list(SetUp.objects.values_list())

    page = planner.get(f"/plan/{booking.pk}/what-if/", {"late": "30"})

    assert "Change the plan so" in page.content.decode()
    assert list(SetUp.objects.values_list()) == before
    assert ShootPlan.objects.get().version == version


def test_what_a_delay_breaks_and_mends_is_told(booking: Booking) -> None:
    stands = {one.title for one in planned_shoot(booking).cautions}
    tried = WhatIf(booking, Change(late_minutes=60))

    for row in SetUp.objects.all():
        row.starts_at += timedelta(minutes=60)
        row.save()
    moved = {one.title for one in planned_shoot(booking).cautions}

    assert set(tried.new_cautions) == moved - stands
    assert set(tried.settled_cautions) == stands - moved
    assert moved != stands


def test_a_plan_that_moved_on_is_not_changed(
    planner: Browser, booking: Booking
) -> None:
    version = ShootPlan.objects.get().version
    choose_sky(
        plan_id=booking.shoot_plan.pk,
        sky=SkyWord.DARK,
        by=booking.job.owner,
        at=NOON,
    )
    url = f"/plan/{booking.pk}/what-if/adopt/"

    page = planner.post(url, {"late": "15", "version": version}, follow=True)

    assert "Somebody else changed this plan" in page.content.decode()
    assert SetUp.objects.get(position=1).starts_at.minute == 15


@pytest.mark.parametrize("wrong", [{"late": "soon"}, {"late": "999"}, {"lens": "0"}])
def test_a_question_that_is_not_understood_says_so(
    planner: Browser, booking: Booking, wrong: dict[str, str]
) -> None:
    page = planner.get(f"/plan/{booking.pk}/what-if/", wrong)

    assert page.status_code == 422
    assert "Under every sky" in page.content.decode()


def test_the_nearest_lens_is_by_stops_of_focal_length_then_by_aperture() -> None:
    def lens(name: str, short: float, long: float | None, wide: float) -> KitItem:
        return make_item(
            name,
            KitCategory.LENS,
            focal_length_mm=short,
            longest_focal_length_mm=long,
            widest_f_number=wide,
        )

    away = lens("85 mm", 85.0, None, 1.8)
    zoom, bright = lens("24-70", 24.0, 70.0, 4.0), lens("24-70 bright", 24.0, 70.0, 2.8)
    tele = lens("70-200", 70.0, 200.0, 2.8)
    row = SetUp(lens=away, focal_length_mm=85.0)

    assert nearest_lens(row, [away, zoom, bright, tele]) == (tele, 85.0)
    assert nearest_lens(row, [away, zoom, bright]) == (bright, 70.0)
    assert nearest_lens(row, [away]) == (None, 85.0)


def test_a_session_without_a_plan_says_what_is_missing(planner: Browser) -> None:
    page = planner.get(f"/plan/{make_booking().pk}/what-if/")

    assert "no set-ups yet" in page.content.decode()


def test_the_job_page_tells_the_other_sky(planner: Browser, booking: Booking) -> None:
    grey = settings_of(planned_shoot(booking, sky=SkyWord.OVERCAST))

    page = planner.get(booking.job.get_absolute_url()).content.decode()

    assert "If it is overcast" in page
    assert all(settings in page for settings in grey)
