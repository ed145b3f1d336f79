"""What helps where the sharp zone is thinner than the group."""

from collections.abc import Iterator
from dataclasses import replace

from planning.light.solve.answers import RemedyName
from planning.light.solve.help.darkness import add_flash, brighter_light, higher_iso
from planning.light.solve.help.offers import Case, Change, Offer
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.words import metres_text

_FARTHEST_SIXTHS = 24  # sixteen times the distance


def shallower_group(case: Case) -> Iterator[Offer]:
    """Offer to line the group up, as close to one plane as it takes."""
    depth = case.request.subject.depth_m
    if depth <= 0.0:
        return

    def change_by(thirds: int) -> Change:
        less = depth * 2.0 ** (-thirds / 6.0)  # as the f-number: two stops a half
        return lambda request: replace(
            request, subject=replace(request.subject, depth_m=less)
        )

    thirds = case.enough(change_by)
    shallow = change_by(thirds)(case.request).subject.depth_m
    yield Offer(
        name=RemedyName.SHALLOWER_GROUP,
        sentence=f"Line the group up within {metres_text(shallow)}.",
        stops=thirds / 3.0,
        change=change_by(thirds),
    )


def stand_back(case: Case) -> Iterator[Offer]:
    """Offer a longer distance, if any within sixteen times makes the set-up fit."""
    for sixths in range(1, _FARTHEST_SIXTHS + 1):
        change = _moved_back(2.0 ** (sixths / 6.0))
        moved = change(case.request)
        if case.fits(moved):
            yield Offer(
                name=RemedyName.STAND_BACK,
                sentence=f"Stand back to {metres_text(moved.subject.distance_m)}, "
                "with a looser frame.",
                stops=case.broken.short_stops,
                change=change,
            )
            return


def more_light_for_depth(case: Case) -> Iterator[Offer]:
    """Offer light where the aperture opened past the group's need for want of it."""
    settled = case.settled
    if settled.aperture.index < settled.scene.focus.needed:
        yield from brighter_light(case)
        yield from higher_iso(case)
        yield from add_flash(case)


def _moved_back(times: float) -> Change:
    def change(request: SetUpRequest) -> SetUpRequest:
        subject = request.subject
        step = subject.distance_m * (times - 1.0)
        behind = subject.background_m
        moved = replace(
            subject,
            distance_m=subject.distance_m + step,
            background_m=None if behind is None else behind + step,
        )
        return replace(request, subject=moved)

    return change
