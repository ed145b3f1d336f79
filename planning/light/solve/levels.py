"""The light in thirds of a stop, and each light's share of the exposure."""

from dataclasses import dataclass
from math import floor, log2

from planning.light.solve.gear import Flash, FlashPurpose
from planning.light.solve.requests import Ambient, SetUpRequest


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """The lights as shares of the key light; `face` sums those that reach the face."""

    ambient: float
    flash: float
    second: float
    second_on_face: float
    face: float

    @property
    def ambient_under_stops(self) -> float:
        """Return how far the ambient should stay under a full exposure, in stops."""
        return log2(self.face / self.ambient)


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """The light in thirds of a stop, as the settings have to meet it."""

    start: int
    end: int
    dark: int
    bright: int

    @property
    def top(self) -> int:
        """Return the brightest likely level of the set-up."""
        return max(self.start, self.end)


def read_shares(request: SetUpRequest) -> Shares:
    """Return each light as a share of the key light."""
    flash, second = request.flash, request.second_flash
    ambient = 1.0 if request.light else 0.0
    flash_share = second_share = 0.0
    on_face = ambient
    if flash is not None and flash.purpose is FlashPurpose.KEY:
        ambient, flash_share = ambient * _under(flash), 1.0
        on_face = ambient + flash_share
    elif flash is not None:
        flash_share = _under(flash)
        on_face += flash_share if flash.purpose is FlashPurpose.FILL else 0.0
    second_on_face = 0.0
    if second is not None:
        second_share = _under(second)
        second_on_face = second_share if second.purpose is FlashPurpose.FILL else 0.0
    return Shares(
        ambient=ambient,
        flash=flash_share,
        second=second_share,
        second_on_face=second_on_face,
        face=on_face + second_on_face,
    )


def read_levels(*, request: SetUpRequest, shares: Shares) -> Levels | None:
    """Return the light in thirds of a stop, or None with flash alone."""
    start = request.light
    if start is None:
        return None
    end = request.light_end or start
    under = shares.ambient_under_stops
    return Levels(
        start=to_thirds(start.exposure_value + under),
        end=to_thirds(end.exposure_value + under),
        dark=to_thirds(darkest(start, end) + under),
        bright=to_thirds(brightest(start, end) + under),
    )


def darkest(start: Ambient, end: Ambient) -> float:
    """Return the lowest exposure value that the set-up may meet."""
    return min(start.dark_exposure_value, end.dark_exposure_value)


def brightest(start: Ambient, end: Ambient) -> float:
    """Return the highest exposure value that the set-up may meet."""
    return max(start.bright_exposure_value, end.bright_exposure_value)


def to_thirds(stops: float) -> int:
    """Return a number of stops as the nearest whole number of thirds."""
    return floor(3.0 * stops + 0.5)


def _under(flash: Flash) -> float:
    return float(2.0**-flash.ratio_stops)
