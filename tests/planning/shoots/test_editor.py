"""The set-up editor: what is typed is drawn at once, turned by the sun, not lost."""

from datetime import datetime, timedelta

import pandas as pd
import pvlib
import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from planning.shoots.choices import Light
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.queries import planned_shoot
from planning.shoots.words import settings_words
from planning.sites.models import Site
from tests.make import make_booking, make_person, make_profile
from tests.make_planning import EVENING, make_set_up, make_shoot
from tests.planning.typing_in import typed_of
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db


@pytest.fixture
def planner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person("Bram Okoro", hats="planner"))
    return client


@pytest.fixture
def booking() -> Booking:
    return make_shoot()


def at_place(booking: Booking, number: int) -> SetUp:
    return SetUp.objects.get(plan__booking=booking, position=number)


def preview(planner: Browser, set_up: SetUp, **changed: str) -> str:
    sent = typed_of(set_up, **changed)
    answer = planner.post(f"/plan/set-up/{set_up.pk}/preview/", sent)
    assert answer.status_code == 200
    return answer.content.decode()


def settings_of(booking: Booking, number: int) -> str:
    return settings_words(planned_shoot(booking).set_ups[number - 1])


def sun_azimuth(at: datetime) -> float:
    """Return the azimuth by pvlib's solar position algorithm (Reda & Andreas 2004)."""
    table = pvlib.solarposition.get_solarposition(
        pd.DatetimeIndex([at]), 54.47, -0.62, method="nrel_numpy"
    )
    return float(table["azimuth"].iloc[0])


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("focal_length_mm", "200"),
        ("distance_m", "2"),
        ("depth_m", "2.5"),
        ("movement", "running"),
        ("heading", "200"),
        ("facing", "240"),
    ],
)
def test_what_is_typed_is_worked_out_as_if_it_were_saved(
    planner: Browser, booking: Booking, field: str, value: str
) -> None:
    set_up = at_place(booking, 3)
    before = preview(planner, set_up)

    tried = preview(planner, set_up, **{field: value})
    assert settings_of(booking, 3) in before
    planner.post(f"/plan/set-up/{set_up.pk}/", typed_of(set_up, **{field: value}))

    assert settings_of(booking, 3) in tried
    assert tried != before


def test_a_preview_saves_nothing(planner: Browser, booking: Booking) -> None:
    set_up = at_place(booking, 1)
    version = ShootPlan.objects.get().version

    preview(planner, set_up, distance_m="2", name="Something else")

    assert at_place(booking, 1).distance_m == 5.0
    assert ShootPlan.objects.get().version == version


def test_a_set_up_that_is_not_saved_yet_has_its_light_too(planner: Browser) -> None:
    empty = make_booking(starts_at=EVENING)
    draft = make_set_up(ShootPlan.objects.create(booking=empty), EVENING)
    sent = typed_of(draft, name="")
    draft.delete()

    page = planner.post(f"/plan/{empty.pk}/new/preview/", sent).content.decode()

    assert "ISO" in page
    assert "Set-up 1 from above" in page
    assert not SetUp.objects.exists()


@pytest.mark.parametrize("wrong", [{"depth_m": "30"}, {"distance_m": "x"}])
def test_what_does_not_fit_is_named_and_the_rest_still_drawn(
    planner: Browser, booking: Booking, wrong: dict[str, str]
) -> None:
    set_up = at_place(booking, 1)

    page = preview(planner, set_up, **wrong)

    assert "Drawn as it was before" in page
    assert settings_of(booking, 1) in page


@pytest.mark.parametrize(
    ("turn", "stands"),
    [("sun_left", -90), ("sun_right", 90), ("sun_ahead", 0), ("sun_behind", 180)],
)
def test_the_camera_turns_by_the_sun_at_the_middle_of_the_set_up(
    planner: Browser, booking: Booking, turn: str, stands: int
) -> None:
    set_up = at_place(booking, 3)
    middle = set_up.starts_at + timedelta(minutes=set_up.minutes) / 2

    page = preview(planner, set_up, turn=turn)

    (box,) = Markup(page).of("input", id="id_heading")
    assert box["hx-swap-oob"] == "true"
    turned = (sun_azimuth(middle) - float(box["value"]) - stands + 180) % 360 - 180
    assert abs(turned) <= 0.51  # whole degrees


def test_the_turn_goes_by_the_time_that_is_typed(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 3)
    noon = EVENING.replace(hour=15, minute=30)

    page = preview(planner, set_up, turn="sun_ahead", start="15:20", minutes="20")

    (box,) = Markup(page).of("input", id="id_heading")
    assert float(box["value"]) == pytest.approx(sun_azimuth(noon), abs=0.51)


def test_without_script_a_turn_comes_back_as_a_page_and_is_not_saved(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 3)
    sent = typed_of(set_up, turn="sun_ahead", note="Typed, not saved")

    page = planner.post(f"/plan/set-up/{set_up.pk}/", sent)

    (box,) = Markup(page.content.decode()).of("input", id="id_heading")
    assert page.status_code == 200
    assert float(box["value"]) != set_up.camera_heading_deg
    assert "Typed, not saved" in page.content.decode()
    assert at_place(booking, 3).note == "One at a time"


def test_a_handle_sets_its_field(planner: Browser, booking: Booking) -> None:
    set_up = at_place(booking, 4)

    page = preview(planner, set_up, to_heading="125", to_flash_bearing_deg="-60")

    (heading,) = Markup(page).of("input", id="id_heading")
    (flash,) = Markup(page).of("input", id="id_flash_bearing_deg")
    assert (heading["value"], flash["value"]) == ("125", "-60")
    assert "60° camera left" in page


def test_every_handle_is_a_slider_with_a_name(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 4)
    page = Markup(planner.get(f"/plan/set-up/{set_up.pk}/").content.decode())

    sliders = page.of("input", type="range")

    named = {label["for"] for label in page.of("label") if "for" in label}
    assert {"to_heading", "to_facing", "to_flash_bearing_deg"} <= {
        one["id"] for one in sliders
    }
    assert {one["id"] for one in sliders} <= named
    assert page.forbidden() == []


def test_bad_input_keeps_everything_that_was_typed(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 1)
    sent = typed_of(set_up, note="Ask for the key", facing="400", distance_m="6.5")

    page = planner.post(f"/plan/set-up/{set_up.pk}/", sent)

    text = page.content.decode()
    assert page.status_code == 422
    assert "<title>Error: " in text
    assert "Ask for the key" in text
    assert 'value="6.5"' in text
    assert 'value="400"' in text


def test_sitters_may_look_elsewhere_than_at_the_camera(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 3)

    planner.post(f"/plan/set-up/{set_up.pk}/", typed_of(set_up, facing="245"))

    changed = at_place(booking, 3)
    assert changed.sitters_face_deg == 245.0
    planner.post(f"/plan/set-up/{set_up.pk}/", typed_of(changed, facing=""))
    assert at_place(booking, 3).facing_deg is None


def test_many_set_ups_fold_away_around_the_open_one(
    planner: Browser, booking: Booking
) -> None:
    plan = ShootPlan.objects.get()
    for number in range(36):
        make_set_up(plan, EVENING, name=f"Long name {number} " + "x" * 100)
    open_one = at_place(booking, 20)

    page = planner.get(f"/plan/set-up/{open_one.pk}/").content.decode()

    assert "Set-ups 1 to 17" in page
    assert "Set-ups 23 to 40" in page


def test_a_window_has_no_beam_but_its_dial_still_turns(
    planner: Browser, booking: Booking
) -> None:
    set_up = at_place(booking, 1)

    page = preview(planner, set_up, light=Light.WINDOW.value, turn="sun_left")

    assert "by the window" in page
    assert 'id="id_heading"' in page


def test_the_dial_says_in_words_where_everything_stands(
    planner: Browser, booking: Booking
) -> None:
    first = preview(planner, at_place(booking, 1), facing="225", heading="45")
    last = preview(planner, at_place(booking, 4), flash_bearing_deg="-40")

    assert "Camera looks 45 degrees, true. Sitters look 225 degrees." in first
    assert "Board 60 degrees camera left." in first
    assert "Flash 40 degrees camera left." in last


def test_second_light_and_board_are_turned_too(
    planner: Browser, booking: Booking
) -> None:
    lamp = at_place(booking, 4)
    lamp.second_flash = lamp.flash
    lamp.save()

    first = preview(planner, at_place(booking, 1), to_board_bearing_deg="75")
    last = preview(planner, lamp, to_second_bearing_deg="-120")

    assert "Board 75 degrees camera right." in first
    assert "Second flash 120 degrees camera left." in last


def test_a_heading_by_the_needle_is_turned_true(planner: Browser) -> None:
    # By hand: the needle points 4.5 degrees east of north, so 350 by it is 354.5 true.
    booking = make_shoot()
    set_up = at_place(booking, 1)
    Site.objects.filter(place=booking.place).update(declination_deg=4.5)
    sent = typed_of(set_up, heading="350 magnetic", facing="NE")

    planner.post(f"/plan/set-up/{set_up.pk}/", sent)

    set_up.refresh_from_db()
    assert (set_up.camera_heading_deg, set_up.facing_deg) == (354.5, 45.0)


def test_a_needle_without_its_variation_is_asked_for(planner: Browser) -> None:
    set_up = at_place(make_shoot(), 1)
    sent = typed_of(set_up, heading="350 M")

    answer = planner.post(f"/plan/set-up/{set_up.pk}/", sent)

    assert answer.status_code == 422
    page = answer.content.decode()
    assert "The compass variation of this place is not known" in page
    assert 'value="350 M"' in page
