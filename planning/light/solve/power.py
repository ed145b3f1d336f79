"""How much power each flash needs, and which places on the line it allows."""

from math import ceil, floor, log2

from planning.light.flash import flash_power
from planning.light.solve.gear import Flash
from planning.light.solve.line import Line
from planning.light.solve.scene import Scene
from planning.light.solve.settled import Settled

_TINY = 1e-9


def high_speed_loss_stops(settled: Settled, flash: Flash, *, shutter: int) -> float:
    """Return what high-speed sync takes at a shutter, by index; 0 where it is unused.

    Source: entry loss, then stop for stop past sync (`flash`).
    """
    if not settled.high_speed or flash.high_speed_entry_stops is None:
        return 0.0
    return flash.high_speed_entry_stops + (shutter - settled.scene.dials.sync) / 3.0


def full_power(settled: Settled, flash: Flash) -> float:
    """Return the power that would light the face fully by that flash alone.

    With its losses, and that of high-speed sync at the start where it is used.
    """
    loss = flash.total_loss_stops
    loss += high_speed_loss_stops(settled, flash, shutter=settled.start)
    return flash_power(
        guide_number_m=flash.guide_number_m,
        f_number=settled.aperture.exact,
        distance_m=flash.distance_m,
        iso=settled.iso.exact,
        loss_stops=loss,
    )


def wanted_shares(settled: Settled) -> tuple[float, float]:
    """Return the shares of a full exposure wanted of the first and second flash.

    A key flash gives what the ambient leaves; fill and rim keep their ratio.
    """
    shares = settled.scene.shares
    if not settled.scene.flash_is_key:
        return shares.flash / shares.face, shares.second / shares.face
    left = max(1.0 - settled.ambient_full, 0.5 / shares.face)
    key = left / (1.0 + shares.second_on_face)
    return key, key * shares.second


def within_power(settled: Settled) -> bool:
    """Say whether every flash could serve, from the first frame to the last.

    With the ambient or without it.
    """
    ends = [(shutter - settled.start) / 3.0 for shutter in (settled.start, settled.end)]
    return all(
        flash.lowest_power
        <= full_power(settled, flash) * share * 2.0**more
        <= flash.power
        for flash, share in lamp_shares(settled.scene)
        for more in ends
    )


def too_strong(settled: Settled) -> bool:
    """Say whether a flash gives too much at its lowest power."""
    request = settled.scene.request
    flashes = (request.flash, request.second_flash)
    return any(
        full_power(settled, flash) * share < flash.lowest_power * (1.0 - _TINY)
        for flash, share in zip(flashes, wanted_shares(settled), strict=True)
        if flash is not None
    )


def lamp_shares(scene: Scene) -> list[tuple[Flash, float]]:
    """Return each flash with the share of a full exposure that it has to give.

    Reckoned without the ambient, which may fade, when a flash is the key.
    """
    shares, request = scene.shares, scene.request
    face = shares.face - (shares.ambient if scene.flash_is_key else 0.0)
    pairs = ((request.flash, shares.flash), (request.second_flash, shares.second))
    return [(flash, share / face) for flash, share in pairs if flash is not None]


def power_places(*, scene: Scene, line: Line) -> tuple[int, int]:
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
