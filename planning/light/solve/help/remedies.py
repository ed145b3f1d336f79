"""Ranking what would help, and finding two that do it together."""

from collections.abc import Callable, Iterable, Iterator
from itertools import combinations

from planning.light.solve.answers import Limit, LimitName, Remedy
from planning.light.solve.help.brightness import (
    darker_light,
    high_speed_sync,
    nd_filter,
)
from planning.light.solve.help.darkness import (
    add_flash,
    brighter_light,
    higher_iso,
    shorter_lens,
    stand_still,
    tripod,
    wider_aperture,
)
from planning.light.solve.help.focus import (
    more_light_for_depth,
    shallower_group,
    stand_back,
)
from planning.light.solve.help.lamps import (
    bare_flash,
    flash_closer,
    flash_farther,
    more_gain,
)
from planning.light.solve.help.offers import Case, Change, Offer
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.settled import Settled

Shortfall = Callable[[SetUpRequest], float]
Finder = Callable[[Case], Iterator[Offer]]

_TOO_DARK: tuple[Finder, ...] = (
    tripod,
    add_flash,
    stand_still,
    brighter_light,
    wider_aperture,
    higher_iso,
    shorter_lens,
)
_TOO_BRIGHT: tuple[Finder, ...] = (nd_filter, darker_light)
_TOO_WEAK: tuple[Finder, ...] = (flash_closer, bare_flash, more_gain)
_DEPTH: tuple[Finder, ...] = (
    shallower_group,
    stand_back,
    more_light_for_depth,
    shorter_lens,
)

_FINDERS: dict[LimitName, tuple[Finder, ...]] = {
    LimitName.DEPTH: _DEPTH,
    LimitName.CLOSE_FOCUS: (stand_back,),
    LimitName.HAND: _TOO_DARK,
    LimitName.MOTION: _TOO_DARK,
    LimitName.SLOWEST: _TOO_DARK,
    LimitName.STREAK: _TOO_BRIGHT,
    LimitName.THIN_FOCUS: (high_speed_sync, *_TOO_BRIGHT, flash_farther),
    LimitName.FASTEST: _TOO_BRIGHT,
    LimitName.SYNC: (high_speed_sync, *_TOO_BRIGHT),
    LimitName.REACH: (*_TOO_WEAK, darker_light),
    LimitName.LOWEST_POWER: (flash_farther, nd_filter),
    LimitName.SECOND_REACH: _TOO_WEAK,
    LimitName.SECOND_LOWEST_POWER: (flash_farther, nd_filter),
}


def find_remedies(
    settled: Settled, limits: Iterable[Limit], *, shortfall: Shortfall
) -> tuple[tuple[Remedy, ...], tuple[Remedy, ...]]:
    """Return what would help, most stops first, and two that do it together.

    Both are empty where nothing is broken; the second where one remedy does alone, or
    no two do. `shortfall` is the solver's own word on a changed request; what does not
    lessen it, alone or as one of the two, is left out.
    """
    request = settled.scene.request
    short = shortfall(request)
    offers = _offers(settled, limits, shortfall=shortfall)
    left = [shortfall(offer.change(request)) for offer in offers]
    pair: tuple[Offer, ...] = ()
    if min(left, default=0.0) > 0.0:
        pair = _pair(offers, fits=lambda trial: shortfall(trial(request)) <= 0.0)
    helping = tuple(
        _remedy(offer, solves=rest <= 0.0)
        for offer, rest in zip(offers, left, strict=True)
        if rest < short or offer in pair
    )
    return helping, tuple(_remedy(offer, solves=False) for offer in pair)


def _pair(offers: list[Offer], *, fits: Callable[[Change], bool]) -> tuple[Offer, ...]:
    """Return the first two offers, strongest first, that do it together."""
    for first, then in combinations(offers, 2):
        if fits(_both(first.change, then.change)):
            return first, then
    return ()


def _both(first: Change, then: Change) -> Change:
    return lambda request: then(first(request))


def _remedy(offer: Offer, *, solves: bool) -> Remedy:
    return Remedy(
        name=offer.name, sentence=offer.sentence, stops=offer.stops, solves=solves
    )


def _offers(
    settled: Settled, limits: Iterable[Limit], *, shortfall: Shortfall
) -> list[Offer]:
    """Return one offer of a kind, the strongest, in order of their stops."""
    found: dict[str, Offer] = {}
    for limit in limits:
        if limit.met or not limit.must:
            continue
        case = Case(settled=settled, broken=limit, shortfall=shortfall)
        for offer in (o for find in _FINDERS[limit.name] for o in find(case)):
            known = found.get(offer.name)
            if known is None or offer.stops > known.stops:
                found[offer.name] = offer
    return sorted(found.values(), key=lambda offer: -offer.stops)
