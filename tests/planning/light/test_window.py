from math import pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.window import average_daylight_factor_pct, overcast_window_lux


@pytest.mark.parametrize(
    ("window", "passed", "angle", "surface", "expected"),
    [(2.4, 0.68, 65.0, 88.0, 1.4465), (3.0, 0.7, 80.0, 100.0, 2.016)],
)
def test_the_average_daylight_factor_is_as_worked_out_for_the_sheet(
    window: float, passed: float, angle: float, surface: float, expected: float
) -> None:
    # Crisp & Littlefair 1984 (form published); these rooms are recomputation, not a
    # printed example.
    found = average_daylight_factor_pct(
        window_m2=window,
        transmittance=passed,
        sky_angle_deg=angle,
        maintenance=0.9,
        room_surface_m2=surface,
        mean_reflectance=0.5,
    )

    assert found == pytest.approx(expected, abs=5e-5)


def test_a_room_that_swallows_light_keeps_only_the_window_s_own() -> None:
    def factor(
        reflectance: float, window_m2: float = 2.0, sky_angle_deg: float = 90.0
    ) -> float:
        return average_daylight_factor_pct(
            window_m2=window_m2,
            transmittance=0.8,
            sky_angle_deg=sky_angle_deg,
            maintenance=1.0,
            room_surface_m2=144.0,
            mean_reflectance=reflectance,
        )

    assert factor(0.0) == pytest.approx(1.0)
    assert factor(0.5) == pytest.approx(1.0 / 0.75)
    assert factor(0.5, window_m2=0.0) == 0.0
    assert factor(0.5, sky_angle_deg=0.0) == 0.0
    assert factor(0.5, sky_angle_deg=180.0) == pytest.approx(2.0 / 0.75)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("window_m2", -1.0),
        ("transmittance", 1.2),
        ("sky_angle_deg", 181.0),
        ("sky_angle_deg", -1.0),
        ("maintenance", -0.1),
        ("room_surface_m2", 0.0),
        ("mean_reflectance", 1.0),
        ("mean_reflectance", -0.2),
    ],
)
def test_a_room_that_cannot_be_is_refused(name: str, value: float) -> None:
    room = {
        "window_m2": 2.0,
        "transmittance": 0.7,
        "sky_angle_deg": 60.0,
        "maintenance": 0.9,
        "room_surface_m2": 80.0,
        "mean_reflectance": 0.5,
    }

    with pytest.raises(ValueError, match=f"{name} .*{value}"):
        average_daylight_factor_pct(**(room | {name: value}))


@pytest.mark.parametrize(("factor", "lux"), [(0.20058, 913.0), (0.059606, 271.0)])
def test_a_window_under_cloud_lights_a_face_as_worked_out_for_the_sheet(
    factor: float, lux: float
) -> None:
    # 1.2 x 1.5 m straight ahead at 1.5 m and 3 m, 10 klx outdoors, glass 0.7, the patch
    # at 15 degrees: recomputed from the CIE overcast sky (published).
    found = overcast_window_lux(
        outdoor_horizontal_lux=10_000.0,
        transmittance=0.7,
        factor=factor,
        mean_sky_elevation_deg=15.0,
    )

    assert found == pytest.approx(lux, abs=0.7)


def test_a_face_that_sees_the_whole_overcast_sky_gets_what_the_ground_gets() -> None:
    # The CIE overcast sky's mean brightness, weighted for the ground, is that at about
    # 42 degrees: 7/9 of the zenith's, where 1 + 2 sin g = 7/3.
    found = overcast_window_lux(
        outdoor_horizontal_lux=10_000.0,
        transmittance=1.0,
        factor=1.0,
        mean_sky_elevation_deg=41.8103149,
    )

    assert found == pytest.approx(10_000.0, rel=1e-6)


def test_the_overcast_zenith_is_three_times_the_horizon() -> None:
    def light(elevation: float) -> float:
        return overcast_window_lux(
            outdoor_horizontal_lux=1000.0,
            transmittance=0.8,
            factor=0.2,
            mean_sky_elevation_deg=elevation,
        )

    assert light(90.0) == pytest.approx(3.0 * light(0.0))
    assert light(90.0) == pytest.approx(1000.0 * 0.8 * 0.2 * 9.0 / 7.0)


@given(elevation=st.floats(0.0, 90.0), lux=st.floats(0.0, 1e5))
def test_a_window_passes_what_its_sky_sends(elevation: float, lux: float) -> None:
    zenith = 9.0 * lux / (7.0 * pi)
    sky = zenith * (1.0 + 2.0 * sin(radians(elevation))) / 3.0

    found = overcast_window_lux(
        outdoor_horizontal_lux=lux,
        transmittance=0.6,
        factor=0.1,
        mean_sky_elevation_deg=elevation,
    )

    assert found == pytest.approx(0.6 * pi * sky * 0.1)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("outdoor_horizontal_lux", -1.0),
        ("transmittance", 1.5),
        ("factor", -0.1),
        ("mean_sky_elevation_deg", 91.0),
        ("mean_sky_elevation_deg", -1.0),
    ],
)
def test_a_window_that_cannot_be_is_refused(name: str, value: float) -> None:
    window = {
        "outdoor_horizontal_lux": 1000.0,
        "transmittance": 0.7,
        "factor": 0.1,
        "mean_sky_elevation_deg": 30.0,
    }

    with pytest.raises(ValueError, match=f"{name} .*{value}"):
        overcast_window_lux(**(window | {name: value}))
