"""What one frame moved: which set-ups, by how many stops, and back again."""

from datetime import timedelta
from math import log2

import pytest
from django.test import Client
from django.urls import reverse

from jobs.bookings.models import Booking
from planning.callsheets.sheet_content import printed_call_sheet
from planning.light.solve import Suggestion
from planning.patterns.models import SavedSetUp
from planning.readings.offers import offer_of
from planning.readings.queries import place_readings
from planning.shifts.operations import take_back_shift
from planning.shifts.queries import stops_words
from planning.shoots.choices import Light, SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.planned import PlannedShoot
from studio.history.models import JournalEntry
from tests.make_frames import (
    FRAME_AT,
    NOW,
    START,
    accept,
    first_person,
    frame,
    worked_out,
)
from tests.make_planning import EVENING, make_set_up, make_shoot

pytestmark = pytest.mark.django_db
DARKER = "0.7 stop darker than planned, from the frame at 15:40"


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def levels(shoot: PlannedShoot) -> list[float]:
    return [one.start.exposure_value for one in shoot.set_ups]


def moved(before: PlannedShoot, after: PlannedShoot) -> list[float]:
    pairs = zip(levels(after), levels(before), strict=True)
    return [round(now - was, 6) for now, was in pairs]


def test_set_ups_lit_by_daylight_move_and_flash_does_not(booking: Booking) -> None:
    # The fourth is lit by flash alone. A light level is linear in lux, so 0.7 stop
    # darker is 2^-0.7 = 0.616 of the lux.
    before = worked_out()

    accept(frame(-0.7))
    after = worked_out()

    assert moved(before, after) == [-0.7, -0.7, -0.7, 0.0]
    share = after.set_ups[1].start.lux / before.set_ups[1].start.lux
    assert share == pytest.approx(0.6156, abs=0.0001)
    assert after.set_ups[3].suggestion == before.set_ups[3].suggestion


def test_the_settings_open_by_what_the_frame_found(booking: Booking) -> None:
    # Settings stand on third stops and meet the light to a sixth: so 1.0 stop darker
    # opens them by 1 stop to within two sixths, and by whole thirds.
    before = worked_out()

    accept(frame(-1.0))
    after = worked_out()

    for was, now in zip(before.set_ups[:3], after.set_ups[:3], strict=True):
        assert was.suggestion is not None
        assert now.suggestion is not None
        opened = dialled(was.suggestion) - dialled(now.suggestion)
        assert opened == pytest.approx(1.0, abs=0.34)
        assert (opened * 3.0) == pytest.approx(round(opened * 3.0), abs=1e-6)


def dialled(found: Suggestion) -> float:
    speed = found.iso.exact / 100.0
    return log2(found.f_number.exact**2 / found.shutter.exact / speed)


def test_what_was_over_before_the_frame_keeps_its_light(booking: Booking) -> None:
    late = worked_out().set_ups[1].facts
    before = worked_out()

    accept(frame(-0.7, position=1, at=late.starts_at + timedelta(minutes=5)))

    assert moved(before, worked_out()) == [0.0, -0.7, -0.7, 0.0]


def test_a_session_that_runs_late_still_has_its_set_ups_to_come(
    booking: Booking,
) -> None:
    # The second is planned until 16:45; at 17:20 the first is not done yet.
    before = worked_out()

    accept(frame(-0.7, at=START + timedelta(minutes=140)))

    assert moved(before, worked_out()) == [-0.7, -0.7, -0.7, 0.0]


def test_a_window_is_another_kind_of_light(booking: Booking) -> None:
    make_set_up(
        ShootPlan.objects.get(), EVENING + timedelta(hours=3), light=Light.WINDOW
    )
    before = worked_out()

    accept(frame(-0.7))

    assert moved(before, worked_out())[4] == 0.0


def test_another_sky_is_not_moved(booking: Booking) -> None:
    before = worked_out(SkyWord.OVERCAST)

    accept(frame(-0.7))

    assert levels(worked_out(SkyWord.OVERCAST)) == levels(before)
    ShootPlan.objects.update(sky=SkyWord.OVERCAST)
    assert offer_of(worked_out(), NOW) is None


def test_it_can_be_taken_back_and_both_are_in_the_journal(booking: Booking) -> None:
    before = worked_out()
    shift = accept(frame(-0.7))

    for _ in range(2):
        take_back_shift(shift_id=shift.pk, by=first_person(), at=NOW)

    assert levels(worked_out()) == levels(before)
    verbs = JournalEntry.objects.order_by("pk").values_list("verb", flat=True)
    assert list(verbs)[-2:] == ["light shifted", "light shift taken back"]
    assert offer_of(worked_out(), NOW) is not None


def test_a_second_frame_is_read_against_the_moved_plan(booking: Booking) -> None:
    # 0.7 darker than the model, then 0.5 darker than that: 1.2 against the model.
    before = worked_out()
    accept(frame(-0.7))

    second = frame(-0.5, position=1, at=FRAME_AT + timedelta(minutes=1))
    accept(second)

    assert second.change_stops == pytest.approx(-0.5)
    assert moved(before, worked_out())[1:3] == [-1.2, -1.2]
    mean = place_readings(booking.place).mean
    assert mean == f"On the mean of 2: {stops_words((-0.7 - 1.2) / 2)}."


def test_every_page_says_it_and_the_library_stays(booking: Booking) -> None:
    client = Client()
    client.force_login(first_person())
    reading = frame(-0.7)
    saved = SavedSetUp.objects.count()
    rows = list(SetUp.objects.values())

    accept(reading)

    pages = [
        client.get(reverse(f"planning:{name}", args=[booking.pk])).content.decode()
        for name in ("plan", "what_if", "readings", "location")
    ]
    assert [DARKER in page for page in pages] == [True] * 4
    assert "Take back" in pages[0]
    sheet = printed_call_sheet(Booking.objects.get(), version=1, at=NOW)
    assert [DARKER[1:] in one.why for one in sheet.set_ups] == [True, True, True, False]
    assert (SavedSetUp.objects.count(), list(SetUp.objects.values())) == (saved, rows)
