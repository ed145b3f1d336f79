"""From a set-up's row and the studio's kit to what the solver is asked."""

from __future__ import annotations

from jobs.kits.models import KitItem
from planning.light.motion import Movement
from planning.light.solve import (
    Aim,
    Ambient,
    Body,
    Lens,
    SetUpRequest,
    Subject,
    Support,
)
from planning.shoots.daylight import Level
from planning.shoots.lighting import first_flash, second_flash
from planning.shoots.models import SetUp
from planning.shoots.shadows import ShadowFill

USUAL_WIDEST = 2.8
DARKEST_WORTH_COUNTING = -2.0
"""Ambient light below this EV does not count beside a flash."""


def request_for(
    set_up: SetUp, start: Level, end: Level, fill: ShadowFill
) -> SetUpRequest:
    """Return what the solver is asked for a set-up.

    Raises ValueError, with the figure, for a set-up that no camera could take.
    """
    flash = first_flash(set_up)
    counts = flash is None or start.exposure_value > DARKEST_WORTH_COUNTING
    return SetUpRequest(
        light=_ambient(start) if counts else None,
        light_end=_ambient(end) if counts else None,
        lens=_lens(set_up),
        body=_body(set_up.camera),
        subject=Subject(
            people=max(set_up.people, 1),
            depth_m=set_up.depth_m,
            distance_m=set_up.distance_m,
            speed_m_s=Movement(set_up.movement).speed_m_s,
        ),
        support=Support(set_up.support),
        flash=flash,
        second_flash=second_flash(set_up),
        fill_share=fill.share,
        aim=Aim(set_up.aim),
    )


def _ambient(level: Level) -> Ambient:
    return Ambient(
        exposure_value=level.exposure_value,
        low_stops=level.low_stops,
        high_stops=level.high_stops,
    )


def _lens(set_up: SetUp) -> Lens:
    lens = set_up.lens
    if lens is None:
        return Lens(
            focal_length_mm=set_up.focal_length_mm, widest_f_number=USUAL_WIDEST
        )
    return Lens(
        focal_length_mm=set_up.focal_length_mm,
        widest_f_number=lens.widest_f_number or USUAL_WIDEST,
        narrowest_f_number=lens.narrowest_f_number or 22.0,
        stabilisation_stops=lens.stabilisation_stops or 0.0,
        close_focus_m=lens.close_focus_m,
        shortest_focal_length_mm=lens.focal_length_mm,
    )


def _body(camera: KitItem | None) -> Body:
    usual = Body()
    if camera is None:
        return usual
    fastest = _one_over(camera.fastest_denominator, usual.fastest_shutter_s)
    return Body(
        sensor_width_mm=camera.sensor_width_mm or usual.sensor_width_mm,
        sensor_height_mm=camera.sensor_height_mm or usual.sensor_height_mm,
        base_iso=camera.base_iso or usual.base_iso,
        highest_iso=camera.highest_iso or usual.highest_iso,
        fastest_shutter_s=fastest,
        sync_s=_one_over(camera.sync_denominator, usual.sync_s),
    )


def _one_over(denominator: int | None, usual: float) -> float:
    return 1.0 / denominator if denominator else usual
