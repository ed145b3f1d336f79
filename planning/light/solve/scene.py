"""What a request comes to before any setting is chosen: dials, limits, light.

Settings are counted in thirds of a stop, as whole numbers: an aperture's, shutter's and
ISO's index on its scale. Then exposure is a sum: the light's level in thirds equals
aperture + shutter - ISO, and nothing is lost to rounding but the light's own third.
"""

from dataclasses import dataclass

from planning.light.solve.dials import Dials, Focus, read_dials, read_focus
from planning.light.solve.gear import FlashPurpose
from planning.light.solve.levels import Levels, Shares, read_levels, read_shares
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.times import Times, read_times


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A request with all that follows from it; `levels` None: flash alone."""

    request: SetUpRequest
    dials: Dials
    focus: Focus
    times: Times
    shares: Shares
    levels: Levels | None

    @property
    def flash_is_key(self) -> bool:
        """Say whether a flash is the main light."""
        flash = self.request.flash
        return flash is not None and flash.purpose is FlashPurpose.KEY


def read_scene(request: SetUpRequest) -> Scene:
    """Return what the request comes to."""
    dials = read_dials(lens=request.lens, body=request.body)
    shares = read_shares(request)
    return Scene(
        request=request,
        dials=dials,
        focus=read_focus(request=request, dials=dials),
        times=read_times(request),
        shares=shares,
        levels=read_levels(request=request, shares=shares),
    )
