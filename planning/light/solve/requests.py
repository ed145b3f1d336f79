"""What the solver is asked: light, subject, gear and the aim."""

from dataclasses import dataclass
from enum import StrEnum

from planning.light.guards import finite, not_negative, positive
from planning.light.solve.gear import Body, Flash, FlashPurpose, Lens


class Support(StrEnum):
    """What carries the camera."""

    HANDHELD = "handheld"
    TRIPOD = "tripod"


class Aim(StrEnum):
    """What matters most in the picture."""

    BALANCED = "balanced"
    FREEZE = "freeze"
    BLUR = "blur"
    THIN_FOCUS = "thin_focus"
    ALL_SHARP = "all_sharp"
    LOW_NOISE = "low_noise"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ambient:
    """Light on the subject, as an exposure value at ISO 100 with honest bounds.

    It may be `low_stops` darker or `high_stops` brighter than likely. The defaults
    suit a really clear sky with the sun above 10 degrees; cloud wants a stop.
    """

    exposure_value: float
    low_stops: float = 1.0 / 3.0
    high_stops: float = 1.0 / 3.0

    def __post_init__(self) -> None:
        if not -30.0 <= self.exposure_value <= 30.0:
            raise ValueError(
                f"exposure_value must lie within -30 to 30, not {self.exposure_value}"
            )
        not_negative(low_stops=self.low_stops, high_stops=self.high_stops)

    @property
    def dark_exposure_value(self) -> float:
        """Return the exposure value at the dark end of the range."""
        return self.exposure_value - self.low_stops

    @property
    def bright_exposure_value(self) -> float:
        """Return the exposure value at the bright end of the range."""
        return self.exposure_value + self.high_stops


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Who is in front of the camera, how deep they stand and how they move.

    `distance_m` is to the middle of the group, `depth_m` from the nearest to the
    farthest eyes. `angle_deg` is between the path and the lens's axis: 90 crosses.
    `background_m` is the distance of what lies behind, `inf` for the horizon;
    `Aim.ALL_SHARP` holds it too where it is given. Speeds: `motion.Movement`.
    """

    distance_m: float
    people: int = 1
    depth_m: float = 0.0
    speed_m_s: float = 0.05
    angle_deg: float = 90.0
    background_m: float | None = None

    def __post_init__(self) -> None:
        positive(distance_m=self.distance_m, people=self.people)
        not_negative(depth_m=self.depth_m, speed_m_s=self.speed_m_s)
        finite(angle_deg=self.angle_deg)
        if self.depth_m >= 2.0 * self.distance_m:
            raise ValueError(f"depth_m {self.depth_m} would reach behind the camera")
        if self.background_m is not None and not self.background_m >= self.far_m:
            raise ValueError(
                f"background_m {self.background_m} is nearer than the subject's "
                f"far end at {self.far_m} m"
            )

    @property
    def near_m(self) -> float:
        """Return the distance of the nearest eyes, in metres."""
        return self.distance_m - self.depth_m / 2.0

    @property
    def far_m(self) -> float:
        """Return the distance of the farthest eyes, in metres."""
        return self.distance_m + self.depth_m / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpRequest:
    """One set-up to find settings for.

    `light` None: flash alone, in a room dark enough not to count. `light_end`: the
    light when the set-up ends, where it changes while one shoots. `second_flash` is a
    fill or rim light beside the first flash, its ratio counted from the key.
    `fill_share`: the light that a board, the walls of a room, sky and ground throw on
    the shadow side, as a share of the key light (`fill.board_fill_lux` over the key's
    lux); over 1 where light comes from all round.
    """

    light: Ambient | None
    lens: Lens
    body: Body
    subject: Subject
    light_end: Ambient | None = None
    support: Support = Support.HANDHELD
    flash: Flash | None = None
    second_flash: Flash | None = None
    fill_share: float | None = None
    aim: Aim = Aim.BALANCED

    def __post_init__(self) -> None:
        self._check_lights()
        self._check_flashes()
        if self.fill_share is not None:
            not_negative(fill_share=self.fill_share)
        if self.subject.near_m * 1000.0 <= self.lens.focal_length_mm:
            raise ValueError(
                f"the subject's near end at {self.subject.near_m} m is inside the "
                f"focal length of {self.lens.focal_length_mm} mm"
            )

    def _check_lights(self) -> None:
        if self.light is None and self.light_end is not None:
            raise ValueError("light_end is given without light")
        if self.light is None and self.flash is None:
            raise ValueError("there is neither light nor flash")

    def _check_flashes(self) -> None:
        if self.flash is None:
            if self.second_flash is not None:
                raise ValueError("second_flash is given without flash")
            return
        if self.light is None and self.flash.purpose is not FlashPurpose.KEY:
            raise ValueError(
                f"a flash alone must be the key light, not {self.flash.purpose}"
            )
        if self.second_flash and self.second_flash.purpose is FlashPurpose.KEY:
            raise ValueError("second_flash must be a fill or rim light, not the key")
