"""What the solver answers: settings, limits, what gave way, and remedies."""

from dataclasses import dataclass
from enum import StrEnum

from planning.light.exposure import Stop
from planning.light.flash import LightingRatio
from planning.light.optics import DepthOfField


class LimitName(StrEnum):
    """What a setting has to respect, in words for a page."""

    DEPTH = "depth of the group"
    CLOSE_FOCUS = "closest focus"
    HAND = "hand-holding"
    MOTION = "subject motion"
    STREAK = "blur on purpose"
    THIN_FOCUS = "thin focus"
    FASTEST = "fastest shutter"
    SLOWEST = "slowest shutter"
    SYNC = "flash sync"
    REACH = "flash reach"
    LOWEST_POWER = "lowest flash power"
    SECOND_REACH = "second light's reach"
    SECOND_LOWEST_POWER = "second light's lowest power"
    NOISE = "highest ISO"
    DIFFRACTION = "diffraction"
    BACKGROUND = "background level"


class ExposureMode(StrEnum):
    """How to set the camera, by the names on its dial."""

    MANUAL = "manual"
    APERTURE_PRIORITY = "aperture priority"
    SHUTTER_PRIORITY = "shutter priority"
    PROGRAM = "program"


class GaveName(StrEnum):
    """What a set-up can give up for the light's sake."""

    LOW_NOISE = "low noise"
    SPARE_DEPTH = "spare depth"
    OPEN_APERTURE = "open aperture"
    BACKGROUND = "background level"
    LIMIT = "a limit"


class RemedyName(StrEnum):
    """What the photographer can change."""

    TRIPOD = "tripod"
    WIDER_APERTURE = "wider aperture"
    HIGHER_ISO = "higher ISO"
    ADD_FLASH = "add flash"
    BRIGHTER_LIGHT = "brighter light"
    DARKER_LIGHT = "darker light"
    STAND_STILL = "stand still"
    SHORTER_LENS = "shorter focal length"
    STAND_BACK = "stand back"
    SHALLOWER_GROUP = "shallower group"
    ND_FILTER = "ND filter"
    HIGH_SPEED_SYNC = "high-speed sync"
    FLASH_CLOSER = "flash closer"
    FLASH_FARTHER = "flash farther"
    BARE_FLASH = "bare flash"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit and how the settings stand to it, at the dark end of the light.

    `margin_stops` is below zero where it is broken (-inf: no setting can meet it); a
    distance counts twice its log2, as light does. `must` False: a wish, which may give
    way without the suggestion failing. `sentence` says what it demands.
    """

    name: LimitName
    sentence: str
    margin_stops: float
    must: bool = True

    @property
    def met(self) -> bool:
        """Say whether the settings keep to it."""
        return self.margin_stops >= -1e-9

    @property
    def short_stops(self) -> float:
        """Return by how many stops it is broken; 0 where it is met."""
        return 0.0 if self.met else -self.margin_stops


@dataclass(frozen=True, slots=True, kw_only=True)
class GaveWay:
    """Something given up for the light's sake, by how many stops, and why."""

    name: GaveName
    sentence: str
    stops: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Something that would help, how many stops it brings, and its cost in words.

    `solves`: the set-up fits with this alone, by the solver's own word.
    """

    name: RemedyName
    sentence: str
    stops: float
    solves: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashSetting:
    """How to set one flash.

    `power` is on third stops within what the flash can, under the mark on its dial
    ("1/4 +0.3"); `needed_power` is exact and may lie outside. `loss_stops` sums
    modifiers, bounce and high-speed sync. `reach_m` is how far it could stand at the
    most power allowed.
    """

    power: float
    mark: str
    needed_power: float
    loss_stops: float
    high_speed_sync: bool
    reach_m: float
    recycle_s: float | None
    red_eye_angle_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialled:
    """Settings and nothing said of them; `fits`: no limit that must hold is broken."""

    f_number: Stop
    shutter: Stop
    iso: Stop
    fits: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """Settings on real stops, and everything that speaks for and against them.

    `exposure_value` is the light they stand on (None: flash alone), `_end` when the
    set-up ends. `shutter_end`: the shutter by then, None while it stays the same.
    `shutter_dark` and `shutter_bright`: the shutter at the ends of what the light may
    be. `exposure_error_stops`: above zero is over-exposed, for the likely light.
    `blur_mm`: the subject's motion on the sensor at the dark end, 0 where a flash
    freezes it.
    `ambient_under_stops`: how far the light that is there stays under a full
    exposure, with a flash. `broken` is the worst broken limit; `remedies` the most
    stops first; `together` two of them that make it fit where none does alone;
    `gave_way` in the order of giving.
    """

    f_number: Stop
    shutter: Stop
    iso: Stop
    exposure_value: float | None
    exposure_value_end: float | None
    shutter_end: Stop | None
    shutter_dark: Stop
    shutter_bright: Stop
    exposure_error_stops: float
    focus_m: float
    zone: DepthOfField
    blur_mm: float
    background_blur_mm: float | None
    limits: tuple[Limit, ...]
    gave_way: tuple[GaveWay, ...]
    mode: ExposureMode
    fits: bool
    broken: Limit | None
    remedies: tuple[Remedy, ...]
    together: tuple[Remedy, ...]
    reasons: tuple[str, ...]
    dark_end: str
    bright_end: str
    flash: FlashSetting | None
    second_flash: FlashSetting | None
    ratio: LightingRatio | None
    ambient_under_stops: float | None
    ambient_under_end_stops: float | None

    @property
    def tightest(self) -> Limit | None:
        """Return the limit with the least to spare; None where there is none."""
        musts = [limit for limit in self.limits if limit.must]
        return min(musts, key=lambda limit: limit.margin_stops, default=None)

    @property
    def settings(self) -> str:
        """Return the settings in one line: "f/5.6, 1/250 s, ISO 400"."""
        return f"{self.f_number.nominal}, {self.shutter.nominal}, {self.iso.nominal}"
