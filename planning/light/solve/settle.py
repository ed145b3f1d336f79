"""Choosing a place on the line, and the shutter that goes with it."""

from dataclasses import replace

from planning.light.solve.levels import Levels
from planning.light.solve.line import Line, draw_line
from planning.light.solve.power import power_places, too_strong, within_power
from planning.light.solve.requests import Aim
from planning.light.solve.scene import Scene
from planning.light.solve.settled import Settled
from planning.light.solve.times import no_faster_than, no_slower_than


def settle(scene: Scene) -> Settled:
    """Return the settings for a scene, whether or not they keep every limit."""
    line = draw_line(scene)
    if scene.levels is None:
        return _settle_flash_alone(scene=scene, line=line)
    at_sync = _choose(scene=scene, line=line, levels=scene.levels, high_speed=False)
    if not _wants_high_speed(at_sync):
        return at_sync
    past = _choose(scene=scene, line=line, levels=scene.levels, high_speed=True)
    return past if past.high_speed and within_power(past) else at_sync


def _settle_flash_alone(*, scene: Scene, line: Line) -> Settled:
    reach, weakest = power_places(scene=scene, line=line)
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
        may_pass_sync=False,
    )


def _choose(*, scene: Scene, line: Line, levels: Levels, high_speed: bool) -> Settled:
    cap = _fastest_allowed(scene, high_speed=high_speed)
    brightest_place = line.place_for(cap - levels.top)
    needed, place = _dark_places(scene=scene, line=line, levels=levels)
    if high_speed:
        place = min(place, line.home)  # so that brighter light never raises ISO
    elif scene.request.flash is not None:
        reach, weakest = power_places(scene=scene, line=line)
        place = max(place, min(reach, line.end))
        place = max(min(place, weakest), needed)
    place = max(min(place, brightest_place), 0)
    gain = line.gain(place)
    start, end = levels.start + gain, levels.end + gain
    settled = Settled(
        scene=scene,
        line=line,
        place=place,
        start=start,
        end=end,
        dark=levels.dark + gain,
        bright=levels.bright + gain,
        wanted=levels.top + gain,
        may_pass_sync=high_speed,
    )
    return _held_steady(settled, cap=cap) if scene.flash_is_key else settled


def _held_steady(settled: Settled, *, cap: int) -> Settled:
    """Return one shutter for the whole set-up, as a key flash allows.

    Faster than its background asks where hands or motion need it, or where the flash
    would give too much beside that background.
    """
    steady = max(settled.wanted, min(_slowest_allowed(settled.scene), cap))
    held = _at_shutter(settled, steady)
    while too_strong(held) and held.start < cap:
        held = _at_shutter(held, held.start + 1)
    return held


def _at_shutter(settled: Settled, shutter: int) -> Settled:
    return replace(settled, start=shutter, end=shutter, dark=shutter, bright=shutter)


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
