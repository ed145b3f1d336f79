"""What the photographer has in the bag: lens, body, flashes."""

from dataclasses import dataclass
from enum import StrEnum

from planning.light.flash import bounce_loss_stops
from planning.light.guards import finite, fraction, not_negative, positive


class FlashPurpose(StrEnum):
    """What a flash does in the picture; a rim light does not reach the face."""

    KEY = "key"
    FILL = "fill"
    RIM = "rim"


class FlashMode(StrEnum):
    """How a flash gets to the subject; a slave is fired by the first one's light."""

    DIRECT = "direct"
    BOUNCE = "bounce"
    SLAVE = "slave"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lens:
    """A lens at the focal length in use; a zoom says how short it goes."""

    focal_length_mm: float
    widest_f_number: float
    narrowest_f_number: float = 22.0
    stabilisation_stops: float = 0.0
    close_focus_m: float | None = None
    shortest_focal_length_mm: float | None = None

    def __post_init__(self) -> None:
        positive(focal_length_mm=self.focal_length_mm)
        positive(widest_f_number=self.widest_f_number)
        positive(narrowest_f_number=self.narrowest_f_number)
        not_negative(stabilisation_stops=self.stabilisation_stops)
        if self.widest_f_number > self.narrowest_f_number:
            raise ValueError(
                f"widest_f_number {self.widest_f_number} is narrower than "
                f"narrowest_f_number {self.narrowest_f_number}"
            )
        if self.close_focus_m is not None:
            positive(close_focus_m=self.close_focus_m)
        if self.shortest_focal_length_mm is not None:
            positive(shortest_focal_length_mm=self.shortest_focal_length_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A camera; `highest_iso` is the highest that its owner likes."""

    sensor_width_mm: float = 36.0
    sensor_height_mm: float = 24.0
    base_iso: float = 100.0
    highest_iso: float = 6400.0
    fastest_shutter_s: float = 1.0 / 8000.0
    slowest_shutter_s: float = 30.0
    sync_s: float = 1.0 / 200.0

    def __post_init__(self) -> None:
        positive(sensor_width_mm=self.sensor_width_mm)
        positive(sensor_height_mm=self.sensor_height_mm)
        positive(base_iso=self.base_iso, fastest_shutter_s=self.fastest_shutter_s)
        positive(sync_s=self.sync_s)
        if not self.base_iso <= self.highest_iso <= 102400.0:
            raise ValueError(
                f"highest_iso must lie within base_iso {self.base_iso} and 102400, "
                f"not {self.highest_iso}"
            )
        if not self.fastest_shutter_s <= self.sync_s <= self.slowest_shutter_s:
            raise ValueError(
                f"sync_s {self.sync_s} must lie within fastest_shutter_s "
                f"{self.fastest_shutter_s} and slowest_shutter_s "
                f"{self.slowest_shutter_s}"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Flash:
    """A flash: guide number in metres at ISO 100, where it stands, what it is for.

    `power` is the most that may be used, `lowest_power` the least it can. `distance_m`
    is the whole path of its light; a bounce adds its own loss to `loss_stops`.
    `key_minus_fill_stops` says how far the weaker light stays under the stronger:
    fill or rim under the key, or, for a key flash, the ambient under the flash; by
    default 2 for a key flash (a darker background), 1 for fill (3:1), 0 for a rim.
    `entry_loss_stops` is what high-speed sync costs at once; None if it has none.
    `separation_m` (from the lens) is for the red-eye angle. `steps_a_stop`: how finely
    its power is set, thirds by default.
    """

    guide_number_m: float
    distance_m: float
    power: float = 1.0
    lowest_power: float = 1.0 / 128.0
    loss_stops: float = 0.0
    purpose: FlashPurpose = FlashPurpose.KEY
    mode: FlashMode = FlashMode.DIRECT
    key_minus_fill_stops: float | None = None
    bounce_reflectance: float = 0.8
    bounce_spread_stops: float = 1.0
    entry_loss_stops: float | None = None
    full_power_recycle_s: float | None = None
    separation_m: float | None = None
    steps_a_stop: int = 3

    def __post_init__(self) -> None:
        positive(guide_number_m=self.guide_number_m, distance_m=self.distance_m)
        positive(power=self.power, lowest_power=self.lowest_power)
        positive(steps_a_stop=self.steps_a_stop)
        fraction(power=self.power, bounce_reflectance=self.bounce_reflectance)
        positive(bounce_reflectance=self.bounce_reflectance)
        finite(loss_stops=self.loss_stops)
        not_negative(bounce_spread_stops=self.bounce_spread_stops)
        if self.lowest_power > self.power:
            raise ValueError(
                f"lowest_power {self.lowest_power} is above power {self.power}"
            )
        if self.key_minus_fill_stops is not None:
            finite(key_minus_fill_stops=self.key_minus_fill_stops)
        if self.entry_loss_stops is not None:
            not_negative(entry_loss_stops=self.entry_loss_stops)

    @property
    def ratio_stops(self) -> float:
        """Return how far the weaker light stays under the stronger, in stops."""
        if self.key_minus_fill_stops is not None:
            return self.key_minus_fill_stops
        return _USUAL_RATIO_STOPS[self.purpose]

    @property
    def total_loss_stops(self) -> float:
        """Return what modifiers and a bounce take together, in stops."""
        if self.mode is not FlashMode.BOUNCE:
            return self.loss_stops
        return self.loss_stops + bounce_loss_stops(
            reflectance=self.bounce_reflectance, spread_stops=self.bounce_spread_stops
        )

    @property
    def high_speed_entry_stops(self) -> float | None:
        """Return the entry loss of high-speed sync; None where it cannot be had."""
        return None if self.mode is FlashMode.SLAVE else self.entry_loss_stops


_USUAL_RATIO_STOPS = {  # common practice, no source
    FlashPurpose.KEY: 2.0,
    FlashPurpose.FILL: 1.0,
    FlashPurpose.RIM: 0.0,
}
