"""How to set each flash for settled settings, and what light it adds."""

from dataclasses import dataclass
from math import ceil, inf, log2, sqrt

from planning.light.flash import (
    LightingRatio,
    lighting_ratio,
    recycle_s,
    red_eye_angle_deg,
)
from planning.light.solve.answers import FlashSetting
from planning.light.solve.gear import Flash, FlashPurpose
from planning.light.solve.power import (
    full_power,
    high_speed_loss_stops,
    wanted_shares,
)
from planning.light.solve.settled import Settled

NO_FILL = 2.0**-10


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamps:
    """The flashes as set; `full` is the light on the face as a share of a full
    exposure, `fill` the light on the shadow side, `key` the main light by itself.
    """

    flash: FlashSetting | None
    second: FlashSetting | None
    full: float
    key: float
    fill: float

    @property
    def ratio(self) -> LightingRatio | None:
        """Return the contrast of the lights; None where nothing fills the shadows.

        Ten stops under the key is nothing.
        """
        if self.key <= 0.0 or self.fill < self.key * NO_FILL:
            return None
        return lighting_ratio(log2(self.key / self.fill))


def set_lamps(settled: Settled) -> Lamps:
    """Return how to set the flashes of a scene, if it has any."""
    request = settled.scene.request
    ambient = settled.ambient_full
    wanted = wanted_shares(settled)
    first = second = None
    first_light = second_light = 0.0
    if request.flash is not None:
        first = set_flash(settled, request.flash, share=wanted[0])
        first_light = first.power / full_power(settled, request.flash)
    if request.second_flash is not None:
        second = set_flash(settled, request.second_flash, share=wanted[1])
        second_light = second.power / full_power(settled, request.second_flash)
    first_face = first_light if _on_face(request.flash) else 0.0
    second_face = second_light if _on_face(request.second_flash) else 0.0
    full = ambient + first_face + second_face
    key = first_light if settled.scene.flash_is_key else ambient
    thrown_back = (request.fill_share or 0.0) * key
    return Lamps(
        flash=first,
        second=second,
        full=full,
        key=key,
        fill=full - key + thrown_back if request.flash else thrown_back,
    )


def set_flash(settled: Settled, flash: Flash, *, share: float) -> FlashSetting:
    """Return how to set one flash that gives a share of a full exposure."""
    full = full_power(settled, flash)
    needed = full * share
    steps = flash.steps_a_stop
    power = dial_power(
        needed, lowest=flash.lowest_power, highest=flash.power, steps=steps
    )
    past_sync = high_speed_loss_stops(settled, flash, shutter=settled.start)
    return FlashSetting(
        power=power,
        mark=power_mark(power, steps=steps),
        needed_power=needed,
        loss_stops=flash.total_loss_stops + past_sync,
        high_speed_sync=settled.high_speed,
        reach_m=flash.distance_m * sqrt(flash.power / needed) if needed else inf,
        recycle_s=None
        if flash.full_power_recycle_s is None
        else recycle_s(full_power_recycle_s=flash.full_power_recycle_s, power=power),
        red_eye_angle_deg=None
        if flash.separation_m is None
        else red_eye_angle_deg(
            separation_m=flash.separation_m,
            distance_m=settled.scene.request.subject.distance_m,
        ),
    )


def dial_power(
    needed: float, *, lowest: float, highest: float, steps: int = 3
) -> float:
    """Return the nearest power on the flash's steps within what it can give."""
    place = round(steps * log2(needed)) if needed > 0.0 else -1000
    return float(min(max(2.0 ** (place / steps), lowest), highest))


def power_mark(power: float, *, steps: int = 3) -> str:
    """Return a power as flashes show it: "1/1", "1/4", "1/4 +0.3", "1/4 +0.7"."""
    place = round(-steps * log2(power))
    whole = ceil(place / steps)
    extra = whole - place / steps
    return f"1/{2**whole}" + (f" +{extra:.1f}" if extra > 0.0 else "")


def _on_face(flash: Flash | None) -> bool:
    return flash is not None and flash.purpose is not FlashPurpose.RIM
