"""Choosing a place on the line, and the shutter and flash power that go with it."""

from dataclasses import dataclass
from math import ceil, floor, log2

from planning.light.exposure import (
    APERTURE_THIRDS,
    ISO_THIRDS,
    SHUTTER_THIRDS,
    Stop,
    exposure_value,
)
from planning.light.flash import flash_power
from planning.light.solve.gear import Flash
from planning.light.solve.levels import Levels
from planning.light.solve.line import Line, draw_line
from planning.light.solve.requests import Aim
from planning.light.solve.scene import Scene
from planning.light.solve.times import no_faster_than, no_slower_than

_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """Settings as indices. The four shutters are what the light asks for, and may lie
    beyond the camera's own; with a key flash all four are the same.

    `wanted` is the shutter that would give a key flash's background its level.
    """

    scene: Scene
    line: Line
    place: int
    start: int
    end: int
    dark: int
    bright: int
    wanted: int
    high_speed: bool

    @property
    def aperture(self) -> Stop:
        """Return the f-number."""
        return APERTURE_THIRDS.at(self.line.places[self.place][0])

    @property
    def iso(self) -> Stop:
        """Return the ISO speed."""
        return ISO_THIRDS.at(self.line.places[self.place][1])

    @property
    def shutter(self) -> Stop:
        """Return the shutter at the start of the set-up."""
        return self.on_dial(self.start)

    @property
    def past_sync_stops(self) -> float:
        """Return how far the fastest likely shutter lies past sync, in stops."""
        return (max(self.start, self.end) - self.scene.dials.sync) / 3.0

    @property
    def ambient_full(self) -> float:
        """Return the ambient as a share of a full exposure, at the start."""
        light = self.scene.request.light
        return self.ambient_share(light.exposure_value) if light else 0.0

    def ambient_share(self, value: float) -> float:
        """Return that light as a share of a full exposure at these settings."""
        suits = exposure_value(
            f_number=self.aperture.exact,
            shutter_s=self.shutter.exact,
            iso=self.iso.exact,
        )
        return float(2.0 ** (value - suits))

    def on_dial(self, index: int) -> Stop:
        """Return a shutter, clamped to what the camera has."""
        dials = self.scene.dials
        return SHUTTER_THIRDS.at(min(max(index, dials.slowest), dials.fastest))


def settle(scene: Scene) -> Settled:
    """Return the settings for a scene, whether or not they keep every limit."""
    line = draw_line(scene)
    if scene.levels is None:
        return _settle_flash_alone(scene=scene, line=line)
    at_sync = _choose(scene=scene, line=line, levels=scene.levels, high_speed=False)
    if not _wants_high_speed(at_sync):
        return at_sync
    past = _choose(scene=scene, line=line, levels=scene.levels, high_speed=True)
    return past if past.high_speed and _within_power(past) else at_sync


def full_power(settled: Settled, flash: Flash) -> float:
    """Return the power that would light the face fully by that flash alone.

    With its losses, and that of high-speed sync where it is used.
    """
    loss = flash.total_loss_stops
    if settled.high_speed and flash.high_speed_entry_stops is not None:
        loss += flash.high_speed_entry_stops + max(settled.past_sync_stops, 0.0)
    return flash_power(
        guide_number_m=flash.guide_number_m,
        f_number=settled.aperture.exact,
        distance_m=flash.distance_m,
        iso=settled.iso.exact,
        loss_stops=loss,
    )


def _within_power(settled: Settled) -> bool:
    for flash, share in lamp_shares(settled.scene):
        needed = full_power(settled, flash) * share
        if not flash.lowest_power <= needed <= flash.power:
            return False
    return True


def lamp_shares(scene: Scene) -> list[tuple[Flash, float]]:
    """Return each flash with the share of a full exposure that it has to give.

    Reckoned without the ambient, which may fade, when a flash is the key.
    """
    shares, request = scene.shares, scene.request
    face = shares.face - (shares.ambient if scene.flash_is_key else 0.0)
    pairs = ((request.flash, shares.flash), (request.second_flash, shares.second))
    return [(flash, share / face) for flash, share in pairs if flash is not None]


def _settle_flash_alone(*, scene: Scene, line: Line) -> Settled:
    reach, weakest = _power_places(scene=scene, line=line)
    place = min(max(line.home, reach), weakest)
    sync = scene.dials.sync
    return Settled(
        scene=scene,
        line=line,
        place=min(max(place, 0), line.end),
        start=sync,
        end=sync,
        dark=sync,
        bright=sync,
        wanted=sync,
        high_speed=False,
    )


def _choose(*, scene: Scene, line: Line, levels: Levels, high_speed: bool) -> Settled:
    cap = _fastest_allowed(scene, high_speed=high_speed)
    brightest_place = line.place_for(cap - levels.top)
    needed, place = _dark_places(scene=scene, line=line, levels=levels)
    if scene.request.flash is not None and not high_speed:
        reach, weakest = _power_places(scene=scene, line=line)
        place = max(place, min(reach, line.end))
        place = max(min(place, weakest), needed)
    place = max(min(place, brightest_place), 0)
    gain = line.gain(place)
    wanted = levels.top + gain
    if scene.flash_is_key:
        slow = min(_slowest_allowed(scene), cap)
        steady = max(wanted, slow)
        shutters = (steady, steady, steady, steady)
    else:
        shutters = (
            levels.start + gain,
            levels.end + gain,
            levels.dark + gain,
            levels.bright + gain,
        )
    start, end, dark, bright = shutters
    return Settled(
        scene=scene,
        line=line,
        place=place,
        start=start,
        end=end,
        dark=dark,
        bright=bright,
        wanted=wanted,
        high_speed=high_speed and max(start, end) > scene.dials.sync,
    )


def _dark_places(*, scene: Scene, line: Line, levels: Levels) -> tuple[int, int]:
    """Return the first place that serves the dark end, and the one that the aim likes.

    Both on the line. A key flash serves its subject in any darkness.
    """
    if scene.flash_is_key:
        return 0, line.home
    last = len(line.places) - 1
    needed = line.place_for(_slowest_allowed(scene) - levels.dark)
    place = max(line.home, needed)
    wish = scene.times.critical_s or scene.times.dissolve_s
    if wish is not None:
        liked = line.place_for(no_slower_than(wish) - levels.dark)
        place = max(place, min(liked, line.comfort))
    return min(max(needed, 0), last), min(place, last)


def _slowest_allowed(scene: Scene) -> int:
    """Return the shutter that hands, motion and the camera allow, by index."""
    times, dials = scene.times, scene.dials
    asked = [no_slower_than(t) for t in (times.hand_s, times.motion_s) if t]
    return max([dials.slowest, *asked])


def _fastest_allowed(scene: Scene, *, high_speed: bool) -> int:
    """Return the fastest shutter for camera, sync and blur on purpose, by index."""
    dials, streak = scene.dials, scene.times.streak_s
    cap = dials.fastest
    if scene.request.flash is not None and not high_speed:
        cap = dials.sync
    if streak is not None:
        cap = max(min(cap, no_faster_than(streak)), dials.slowest)
    return cap


def _power_places(*, scene: Scene, line: Line) -> tuple[int, int]:
    """Return the first place within reach of each flash, the last not too strong."""
    reach, weakest = 0, len(line.places) - 1
    for flash, share in lamp_shares(scene):
        full = flash_power(
            guide_number_m=flash.guide_number_m,
            f_number=1.0,
            distance_m=flash.distance_m,
            loss_stops=flash.total_loss_stops,
        )
        least = ceil(3.0 * log2(full * share / flash.power) - _TINY)
        most = floor(3.0 * log2(full * share / flash.lowest_power) + _TINY)
        reach = max(reach, line.place_for(least))
        weakest = min(weakest, line.place_for(most))
    return reach, weakest


def _wants_high_speed(settled: Settled) -> bool:
    """Say whether a shutter past sync would serve the aim better, and can be had."""
    request = settled.scene.request
    flashes = [flash for flash in (request.flash, request.second_flash) if flash]
    if not flashes or any(flash.high_speed_entry_stops is None for flash in flashes):
        return False
    if settled.past_sync_stops > 0.0:
        return True
    shut_down = settled.place < settled.line.home
    return shut_down and request.aim in {Aim.THIN_FOCUS, Aim.FREEZE}
