"""What board and walls give the shadow side, against figures worked by hand."""

from datetime import UTC, datetime, timedelta
from math import log2

import pytest

from jobs.kits.models import KitCategory, KitItem
from planning.light.illuminance import Sky
from planning.light.room import Spot, overcast_on_face_lux
from planning.shoots.choices import Light
from planning.shoots.daylight import Daylight
from planning.shoots.lamp_words import fill_reasons
from planning.shoots.models import SetUp
from planning.shoots.queries import plan_set_ups, where_of
from planning.shoots.rooms import pane_of, walls_share
from planning.shoots.shadows import ShadowFill
from planning.sites.models import Room, Window
from tests.make import make_place

pytestmark = pytest.mark.django_db
NOON = datetime(2027, 6, 21, 12, tzinfo=UTC)


def a_window() -> Window:
    place = make_place()
    room = Room.objects.create(place=place, name="Nursery", length_m=4.0, width_m=3.5)
    return Window.objects.create(
        room=room, name="north window", width_m=1.2, height_m=1.5, facing_deg=0.0
    )


def a_board(reflectance: float = 0.85) -> KitItem:
    return KitItem(
        name="Board",
        category=KitCategory.BOARD,
        width_m=1.0,
        height_m=2.0,
        reflectance=reflectance,
    )


def said(window: Window | None = None, **fields: object) -> tuple[ShadowFill, str]:
    values = {"light": Light.WINDOW, "facing_deg": 0.0, "window": window} | fields
    row = SetUp(name="One", starts_at=NOON, **values)
    place = window.room.place if window else make_place()
    light = Daylight(where_of(place), NOON, NOON + timedelta(hours=1))
    (one,) = plan_set_ups([row], light, Sky.OVERCAST)
    return one.fill, " ".join(fill_reasons(one))


def test_a_board_beside_walls_that_give_as_much_lifts_by_one_stop() -> None:
    # By hand: a quarter of the key from each. K + F over F is 5 without the board,
    # 3 with it; the shadow side itself has twice the light.
    fill = ShadowFill(board=0.25, walls=0.25)

    assert fill.lift_stops == pytest.approx(1.0)
    assert fill.under_alone_stops == pytest.approx(log2(5.0))
    assert fill.under_stops == pytest.approx(log2(3.0))


def test_what_nobody_knows_is_not_said() -> None:
    assert ShadowFill().share is None
    assert ShadowFill().under_stops is None
    assert ShadowFill(board=0.2).lift_stops is None
    assert ShadowFill(board=0.0).under_stops is None


def test_walls_follow_the_split_flux_rule() -> None:
    # By hand, Hopkinson et al. 1954: T W (C R + 5 R)/(A (1 - R)) with 0.7, 1.8 m2,
    # C 39, R 0.5 and A 64 m2 is 0.866 % of the light outdoors.
    window = a_window()
    light = Daylight(where_of(window.room.place), NOON, NOON + timedelta(hours=1))
    moment = light.moment(NOON)
    outdoors = light.sky_lux(moment, Sky.OVERCAST)
    row = SetUp(window=window, facing_deg=0.0, window_distance_m=1.5)
    direct = overcast_on_face_lux(
        pane_of(window),
        Spot(distance_m=1.5, facing_deg=0.0),
        outdoor_horizontal_lux=outdoors,
    )

    share = walls_share(row, window, moment, light, Sky.OVERCAST)

    assert share == pytest.approx(0.00866 * outdoors / direct, rel=1e-3)


def test_a_board_in_a_known_room_is_told_as_a_lift() -> None:
    fill, words = said(a_window(), board=a_board(), board_distance_m=0.8)

    assert fill.walls is not None
    assert fill.board is not None
    assert fill.lift_stops == pytest.approx(log2(1 + fill.board / fill.walls))
    assert f"lifts the shadow side by {fill.lift_stops:.1f} stops" in words
    assert words.startswith("The room’s walls alone leave the shadow side")


def test_a_board_elsewhere_is_told_by_what_it_leaves() -> None:
    # 1 x 2 m square on at 1 m: B-3 of Howell's catalogue, 4 times a corner with
    # X = 0.5, Y = 1: 0.09018 each; half the key falls on it, 0.85 comes back.
    fill, words = said(board=a_board(), board_distance_m=1.0)

    assert fill.walls is None
    assert fill.board == pytest.approx(0.85 * 0.5 * 4 * 0.09018, rel=1e-3)
    assert "2.9 stops under the lit side; walls and ground are not counted." in words


def test_a_dark_board_takes_light_and_is_no_fill() -> None:
    fill, words = said(board=a_board(0.02))

    assert fill == ShadowFill()
    assert words == (
        "Board at 1 m keeps light off the shadow side; how much, a reading shows."
    )


def test_behind_the_sitters_back_no_window_is_compared_with_walls() -> None:
    fill, _ = said(a_window(), facing_deg=180.0)

    assert fill.walls is None
