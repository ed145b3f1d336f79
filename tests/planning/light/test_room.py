"""A room's windows: figures worked out by hand or recomputed for the physics sheet."""

from math import cos, radians

import pytest

from planning.light.room import (
    Pane,
    Spot,
    Walls,
    clear_on_face_lux,
    overcast_on_face_lux,
    sky_factor,
    sun_share,
    walls_lux,
)

# 1.2 m wide and 1.5 m high, its sill at the face's height; it looks north.
NORTH = Pane(width_m=1.2, height_m=1.5, sill_m=1.2, facing_deg=0.0, transmittance=0.7)


def spot(distance_m: float = 1.5, **fields: float) -> Spot:
    return Spot(**{"distance_m": distance_m, "facing_deg": 0.0} | fields)


def test_the_window_fills_the_share_of_the_view_that_the_formula_gives() -> None:
    # Two corner rectangles of Howell's B-3, 0.6 x 1.5 m at 1.5 m: X = 0.4, Y = 1,
    # F = 1/2pi [0.3714 atan(0.9285) + 0.7071 atan(0.2828)] = 0.07525 each, by hand.
    assert sky_factor(NORTH, spot()) == pytest.approx(2 * 0.07525, abs=2e-5)


def test_a_face_that_looks_into_the_room_sees_no_sky() -> None:
    assert sky_factor(NORTH, spot(facing_deg=180.0)) == 0.0


def test_houses_opposite_take_the_lower_sky_and_at_last_all_of_it() -> None:
    def behind(angle: float) -> float:
        pane = Pane(
            width_m=1.2,
            height_m=1.5,
            sill_m=1.2,
            facing_deg=0.0,
            transmittance=0.7,
            obstruction_deg=angle,
        )
        return sky_factor(pane, spot())

    # The head of the glass stands 45 degrees up from a spot 1.5 m away.
    assert behind(0.0) > behind(20.0) > behind(44.0) > 0.0
    assert behind(45.1) == 0.0


def test_an_overcast_sky_comes_through_as_recomputed() -> None:
    # L = Lz (1 + 2 sin g)/3, Lz = 9 E/7 pi, g = atan(0.75/1.5) = 26.565 degrees:
    # 0.7 pi x 4092.5 x 0.63148 x 0.15051 = 855 lx of 10 klx.
    lux = overcast_on_face_lux(NORTH, spot(), outdoor_horizontal_lux=10_000.0)

    assert lux == pytest.approx(855.4, rel=0.005)


def test_twice_as_far_is_less_than_two_stops_darker_close_to_a_window() -> None:
    near = overcast_on_face_lux(NORTH, spot(), outdoor_horizontal_lux=10_000.0)
    far = overcast_on_face_lux(NORTH, spot(3.0), outdoor_horizontal_lux=10_000.0)

    assert 2.0 < near / far < 4.5


def test_an_even_sky_fills_half_the_view_of_the_glass() -> None:
    # A window so large and near that it is the whole upper half of the view gives a
    # face what falls on the glass, less what the glass keeps: F = 1/2, 2 tau E F.
    wide = Pane(
        width_m=4000.0, height_m=2000.0, sill_m=1.2, facing_deg=0.0, transmittance=0.7
    )

    lux = clear_on_face_lux(wide, spot(1.0), window_sky_lux=10_000.0)
    assert lux == pytest.approx(7_000.0, rel=0.002)


def test_the_sun_reaches_the_face_only_through_the_glass() -> None:
    south = Pane(
        width_m=1.2, height_m=1.5, sill_m=1.2, facing_deg=180.0, transmittance=0.8
    )
    here = spot(1.5, facing_deg=180.0)

    # Straight ahead the ray climbs 1.5 tan(a): 0.87 m at 30 degrees, within the
    # glass; 1.79 m at 50, above it. Sideways 1.5 tan(20) = 0.55 m is within 0.6 m.
    inside = sun_share(south, here, altitude_deg=30.0, azimuth_deg=180.0)
    assert inside == pytest.approx(0.8 * cos(radians(30.0)), abs=1e-9)
    assert sun_share(south, here, altitude_deg=50.0, azimuth_deg=180.0) == 0.0
    assert sun_share(south, here, altitude_deg=20.0, azimuth_deg=200.0) > 0.0
    assert sun_share(south, here, altitude_deg=20.0, azimuth_deg=203.0) == 0.0
    # Half a metre right of the middle, as one looks out: the sun from the west, to
    # the right, misses sooner.
    moved = spot(1.5, facing_deg=180.0, offset_m=0.5)
    assert sun_share(south, moved, altitude_deg=20.0, azimuth_deg=190.0) == 0.0
    assert sun_share(south, moved, altitude_deg=20.0, azimuth_deg=150.0) > 0.0


def test_walls_return_the_split_flux_share() -> None:
    # T W (C R + 5 R)/(A (1 - R)) with T .7, W 1.8, C 39, R .5, A 80: 0.693 %.
    lux = walls_lux(
        NORTH,
        Walls(surface_m2=80.0, mean_reflectance=0.5),
        outdoor_horizontal_lux=10_000.0,
    )

    assert lux == pytest.approx(69.3, abs=0.05)


@pytest.mark.parametrize(
    "fields", [{"width_m": 0.0}, {"obstruction_deg": 90.0}, {"transmittance": 1.2}]
)
def test_a_window_that_cannot_be_is_refused(fields: dict[str, float]) -> None:
    usual = {
        "width_m": 1.0,
        "height_m": 1.0,
        "sill_m": 1.0,
        "facing_deg": 0.0,
        "transmittance": 0.7,
    }
    with pytest.raises(ValueError, match=next(iter(fields))):
        Pane(**usual | fields)
