"""A case that needs help, and what may be offered for it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil

from planning.light.solve.answers import Limit, RemedyName
from planning.light.solve.gear import Flash
from planning.light.solve.requests import Ambient, SetUpRequest
from planning.light.solve.settled import Settled

Change = Callable[[SetUpRequest], SetUpRequest]

_MOST_THIRDS = 60  # twenty stops: beyond that no amount is worth a sentence
_MORE_THIRDS = 12  # beyond the bare shortfall, for rounding and other limits' share


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One thing to change, how many stops it brings, and the change itself."""

    name: RemedyName
    sentence: str
    stops: float
    change: Change


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One broken limit of settled settings.

    `shortfall` is the solver's own word on a changed request: by how many stops its
    limits are broken in all, 0 where it fits.
    """

    settled: Settled
    broken: Limit
    shortfall: Callable[[SetUpRequest], float]

    @property
    def request(self) -> SetUpRequest:
        """Return the request that does not fit."""
        return self.settled.scene.request

    @property
    def thirds(self) -> int:
        """Return the shortfall in whole thirds of a stop, rounded up."""
        return ceil(3.0 * min(self.broken.short_stops, _MOST_THIRDS / 3.0) - 1e-9)

    def fits(self, request: SetUpRequest) -> bool:
        """Say whether a changed request fits."""
        return self.shortfall(request) <= 0.0

    def enough(self, change_by: Callable[[int], Change]) -> int:
        """Return how many thirds of a stop make the set-up fit.

        The bare shortfall where not even four stops more would.
        """
        for thirds in range(self.thirds, self.thirds + _MORE_THIRDS + 1):
            if self.fits(change_by(thirds)(self.request)):
                return thirds
        return self.thirds


def relit(stops: float) -> Change:
    """Return a change to light that is so many stops brighter, or darker below 0."""

    def lift(light: Ambient | None) -> Ambient | None:
        if light is None:
            return None
        value = min(max(light.exposure_value + stops, -30.0), 30.0)
        return replace(light, exposure_value=value)

    def change(request: SetUpRequest) -> SetUpRequest:
        return replace(
            request, light=lift(request.light), light_end=lift(request.light_end)
        )

    return change


def filtered(stops: float) -> Change:
    """Return a change to a filter on the lens, which takes from the flashes too."""

    def dim(flash: Flash | None) -> Flash | None:
        if flash is None:
            return None
        return replace(flash, loss_stops=flash.loss_stops + stops)

    def change(request: SetUpRequest) -> SetUpRequest:
        dark = relit(-stops)(request)
        return replace(dark, flash=dim(dark.flash), second_flash=dim(dark.second_flash))

    return change
