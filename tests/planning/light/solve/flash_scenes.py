"""Scenes lit by flash, and the light that an answer puts on the face."""

from dataclasses import replace

from planning.light.flash import flash_power
from planning.light.solve import (
    Ambient,
    Flash,
    FlashPurpose,
    Subject,
    Suggestion,
    Support,
)
from tests.planning.light.solve.cases import PORTRAIT

SURE = Ambient(exposure_value=11.0, low_stops=0.0, high_stops=0.0)


STUDIO = replace(
    PORTRAIT,
    light=None,
    subject=Subject(distance_m=2.5, depth_m=0.2),
    flash=Flash(guide_number_m=60.0, distance_m=1.5, loss_stops=1.5),
)


DUSK = replace(
    PORTRAIT,
    light=replace(SURE, exposure_value=5.0),
    support=Support.TRIPOD,
    flash=Flash(guide_number_m=36.0, distance_m=2.5, loss_stops=1.5),
)


SUN_FILL = replace(
    PORTRAIT,
    light=replace(SURE, exposure_value=14.0),
    flash=Flash(guide_number_m=36.0, distance_m=3.0, purpose=FlashPurpose.FILL),
)


def light_on_the_face(answer: Suggestion, flash: Flash) -> float:
    """What a flash as set gives, as a share of a full exposure."""
    assert answer.flash is not None
    full = flash_power(
        guide_number_m=flash.guide_number_m,
        f_number=answer.f_number.exact,
        distance_m=flash.distance_m,
        iso=answer.iso.exact,
        loss_stops=answer.flash.loss_stops,
    )
    return answer.flash.power / full
