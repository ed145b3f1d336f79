"""Settings chosen for a scene, as places on the dials."""

from dataclasses import dataclass

from planning.light.exposure import (
    APERTURE_THIRDS,
    ISO_THIRDS,
    SHUTTER_THIRDS,
    Stop,
    exposure_value,
)
from planning.light.solve.line import Line
from planning.light.solve.scene import Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """Settings as indices. The four shutters are what the light asks for, and may lie
    beyond the camera's own; with a key flash all four are the same.

    `wanted` is the shutter that would give a key flash's background its level.
    """

    scene: Scene
    line: Line
    place: int
    start: int
    end: int
    dark: int
    bright: int
    wanted: int
    may_pass_sync: bool

    @property
    def aperture(self) -> Stop:
        """Return the f-number."""
        return APERTURE_THIRDS.at(self.line.places[self.place][0])

    @property
    def iso(self) -> Stop:
        """Return the ISO speed."""
        return ISO_THIRDS.at(self.line.places[self.place][1])

    @property
    def shutter(self) -> Stop:
        """Return the shutter at the start of the set-up."""
        return self.on_dial(self.start)

    @property
    def high_speed(self) -> bool:
        """Say whether the flashes work in high-speed sync, first frame to last."""
        slowest = min(self.start, self.end)
        return self.may_pass_sync and slowest > self.scene.dials.sync

    @property
    def past_sync_stops(self) -> float:
        """Return how far the fastest likely shutter lies past sync, in stops."""
        return (max(self.start, self.end) - self.scene.dials.sync) / 3.0

    @property
    def ambient_full(self) -> float:
        """Return the ambient as a share of a full exposure, at the start."""
        light = self.scene.request.light
        return self.ambient_share(light.exposure_value) if light else 0.0

    def ambient_share(self, value: float) -> float:
        """Return that light as a share of a full exposure at these settings."""
        suits = exposure_value(
            f_number=self.aperture.exact,
            shutter_s=self.shutter.exact,
            iso=self.iso.exact,
        )
        return float(2.0 ** (value - suits))

    def on_dial(self, index: int) -> Stop:
        """Return a shutter, clamped to what the camera has."""
        dials = self.scene.dials
        return SHUTTER_THIRDS.at(min(max(index, dials.slowest), dials.fastest))
