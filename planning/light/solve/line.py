"""The way that settings go as the light fades: one third of a stop at a time.

Each aim has its own order of giving way. A line starts at the narrowest aperture and
base ISO; every step lets the camera take one third of a stop more, and ISO never falls
along it: that is why more light never asks for a higher ISO.
"""

from dataclasses import dataclass

from planning.light.solve.requests import Aim
from planning.light.solve.scene import Scene

COMFORT_THIRDS = 6  # common practice: two stops over base, the grey day's ISO 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Pairs of aperture and ISO index, in the order of fading light.

    `home`: where the aim would like to stay. `comfort`: the last place that a mere wish
    may push to. `end`: the last place that keeps every promise; places after it break
    the one that this aim gives up first.
    """

    places: tuple[tuple[int, int], ...]
    home: int
    comfort: int
    end: int

    def gain(self, place: int) -> int:
        """Return how much light the camera takes there, in thirds: ISO - aperture."""
        aperture, iso = self.places[place]
        return iso - aperture

    def place_for(self, gain: int) -> int:
        """Return the place that takes so much light; it may lie beyond either end."""
        return gain - self.gain(0)


def draw_line(scene: Scene) -> Line:
    """Return the line of a scene's aim."""
    dials, focus = scene.dials, scene.focus
    comfort = min(dials.base + COMFORT_THIRDS, dials.highest)
    walk = _Walk(aperture=dials.narrowest, iso=dials.base)
    walk.open_to(focus.home)
    home = len(walk.places) - 1
    if scene.request.aim is not Aim.LOW_NOISE:
        walk.raise_to(comfort)
    comfortable = len(walk.places) - 1
    walk.open_to(focus.needed)
    walk.raise_to(dials.highest)
    end = len(walk.places) - 1
    if scene.request.aim is Aim.FREEZE:
        walk.open_to(dials.widest)
    return Line(places=tuple(walk.places), home=home, comfort=comfortable, end=end)


class _Walk:
    """Places walked so far; each step is a third of a stop."""

    def __init__(self, *, aperture: int, iso: int) -> None:
        self.places = [(aperture, iso)]

    def open_to(self, aperture: int) -> None:
        here, iso = self.places[-1]
        self.places += [(stop, iso) for stop in range(here - 1, aperture - 1, -1)]

    def raise_to(self, iso: int) -> None:
        aperture, here = self.places[-1]
        self.places += [(aperture, stop) for stop in range(here + 1, iso + 1)]
