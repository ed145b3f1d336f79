"""What helps where a flash is too weak or too strong."""

from collections.abc import Iterator
from dataclasses import replace

from planning.light.solve.answers import LimitName, RemedyName
from planning.light.solve.gear import Flash
from planning.light.solve.help.darkness import higher_iso, wider_aperture
from planning.light.solve.help.offers import Case, Change, Offer
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.words import metres_text, stops_text

_SECOND = {LimitName.SECOND_REACH, LimitName.SECOND_LOWEST_POWER}


def flash_closer(case: Case) -> Iterator[Offer]:
    """Offer the flash nearer to the subject, as near as it takes."""
    return _move(case, name=RemedyName.FLASH_CLOSER, sign=-1)


def flash_farther(case: Case) -> Iterator[Offer]:
    """Offer the flash farther from the subject, as far as it takes."""
    return _move(case, name=RemedyName.FLASH_FARTHER, sign=1)


def bare_flash(case: Case) -> Iterator[Offer]:
    """Offer the flash without its modifier."""
    flash = _flash(case)
    if flash is None or flash.loss_stops <= 0.0:
        return

    def change(request: SetUpRequest) -> SetUpRequest:
        if case.broken.name in _SECOND and request.second_flash is not None:
            bare = replace(request.second_flash, loss_stops=0.0)
            return replace(request, second_flash=bare)
        if request.flash is None:
            return request
        return replace(request, flash=replace(request.flash, loss_stops=0.0))

    yield Offer(
        name=RemedyName.BARE_FLASH,
        sentence=f"Without its modifier the flash brings "
        f"{stops_text(flash.loss_stops)}, and harder light.",
        stops=flash.loss_stops,
        change=change,
    )


def more_gain(case: Case) -> Iterator[Offer]:
    """Offer aperture and ISO, unless the ambient already sits at the sync speed."""
    settled = case.settled
    held = settled.scene.levels is not None and settled.past_sync_stops > -1.0 / 3.0
    if not held:
        yield from wider_aperture(case)
        yield from higher_iso(case)


def _flash(case: Case) -> Flash | None:
    request = case.request
    return request.second_flash if case.broken.name in _SECOND else request.flash


def _move(case: Case, *, name: RemedyName, sign: int) -> Iterator[Offer]:
    flash = _flash(case)
    if flash is None:
        return

    def moved_to(thirds: int) -> float:
        return float(flash.distance_m * 2.0 ** (sign * thirds / 6.0))

    def change_by(thirds: int) -> Change:
        distance = moved_to(thirds)

        def change(request: SetUpRequest) -> SetUpRequest:
            if case.broken.name in _SECOND and request.second_flash is not None:
                moved = replace(request.second_flash, distance_m=distance)
                return replace(request, second_flash=moved)
            if request.flash is None:
                return request
            return replace(request, flash=replace(request.flash, distance_m=distance))

        return change

    thirds = case.enough(change_by)
    distance = moved_to(thirds)
    lamp = "second light" if case.broken.name in _SECOND else "flash"
    yield Offer(
        name=name,
        sentence=f"The {lamp} at {metres_text(distance)} instead of "
        f"{metres_text(flash.distance_m)}.",
        stops=thirds / 3.0,
        change=change_by(thirds),
    )
