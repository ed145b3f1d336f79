"""What a set-up gives up for the light's sake, in order, and what asks for it."""

from collections.abc import Iterable, Iterator

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.light.solve.answers import GaveName, GaveWay, Limit
from planning.light.solve.levels import darkest
from planning.light.solve.power import power_places
from planning.light.solve.requests import Aim
from planning.light.solve.settled import Settled
from planning.light.solve.words import seconds_text, stops_text, value_text


def what_gave_way(settled: Settled, limits: Iterable[Limit]) -> tuple[GaveWay, ...]:
    """Return what was given up, in the order in which this aim gives."""
    noise = list(_noise(settled))
    aperture = list(_aperture(settled))
    opened_first = settled.scene.request.aim is Aim.LOW_NOISE
    first, then = (aperture, noise) if opened_first else (noise, aperture)
    broken = [
        GaveWay(
            name=GaveName.LIMIT,
            sentence=f"{limit.name.capitalize()} is broken: {limit.sentence}",
            stops=limit.short_stops,
        )
        for limit in limits
        if limit.must and not limit.met
    ]
    return (*first, *then, *_background(settled), *broken)


def _noise(settled: Settled) -> Iterator[GaveWay]:
    base = ISO_THIRDS.at(settled.scene.dials.base)
    stops = (settled.iso.index - base.index) / 3.0
    if stops > 0.0:
        yield GaveWay(
            name=GaveName.LOW_NOISE,
            sentence=f"{settled.iso.nominal} instead of {base.nominal}: "
            f"{what_asks(settled)}",
            stops=stops,
        )


def _aperture(settled: Settled) -> Iterator[GaveWay]:
    focus = settled.scene.focus
    home = APERTURE_THIRDS.at(focus.home)
    stops = (home.index - max(settled.aperture.index, focus.needed)) / 3.0
    change = f"{settled.aperture.nominal} instead of {home.nominal}"
    if stops > 0.0:
        yield GaveWay(
            name=GaveName.SPARE_DEPTH,
            sentence=f"{change}: {what_asks(settled)}",
            stops=stops,
        )
    if settled.aperture.index > home.index:
        yield GaveWay(
            name=GaveName.OPEN_APERTURE,
            sentence=f"{change}: {_why_stopped_down(settled)}",
            stops=(settled.aperture.index - home.index) / 3.0,
        )


def _why_stopped_down(settled: Settled) -> str:
    dials = settled.scene.dials
    if settled.scene.times.streak_s is not None:
        return "the blur needs a slow shutter"
    if settled.scene.request.flash is None or settled.high_speed:
        fastest = SHUTTER_THIRDS.at(dials.fastest).nominal
        return f"{fastest} is the fastest shutter"
    if settled.scene.levels is not None and settled.past_sync_stops >= 0.0:
        sync = SHUTTER_THIRDS.at(dials.sync).nominal
        return f"{sync} is the fastest that the flash allows"
    return "the flash is too strong even at its lowest power"


def _background(settled: Settled) -> Iterator[GaveWay]:
    stops = (settled.start - settled.wanted) / 3.0
    if settled.scene.levels is not None and stops > 0.0:
        yield GaveWay(
            name=GaveName.BACKGROUND,
            sentence=f"the background goes {stops_text(stops)} darker: "
            f"{settled.shutter.nominal} is the slowest that serves",
            stops=stops,
        )


def what_asks(settled: Settled) -> str:
    """Say what made the camera take more light."""
    request = settled.scene.request
    if request.light is None or _flash_asks(settled):
        return "the flash needs it to reach"
    times, dials = settled.scene.times, settled.scene.dials
    asked = [(times.hand_s, "by hand"), (times.motion_s, "for the motion")]
    if settled.place <= settled.line.comfort:
        asked += [
            (times.critical_s, "to freeze it fully"),
            (times.dissolve_s, "so that the blur stays somebody"),
        ]
    slowest = SHUTTER_THIRDS.at(dials.slowest).exact
    stated = [(limit, why) for limit, why in asked if limit is not None]
    limit, why = min(stated, default=(slowest, "at the slowest"))
    dark = darkest(request.light, request.light_end or request.light)
    return f"{seconds_text(limit)} {why}, and the light may be {value_text(dark)}"


def _flash_asks(settled: Settled) -> bool:
    """Say whether it was a flash's reach, not the shutter, that asked for more."""
    scene = settled.scene
    if scene.request.flash is None:
        return False
    reach, _ = power_places(scene=scene, line=settled.line)
    return scene.flash_is_key or reach >= settled.place
