"""A light plan worked out: plain values that pages, charts and papers draw."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from math import inf

from planning.light.illuminance import Sky
from planning.light.solve import Limit, Suggestion
from planning.shifts.models import LightShift
from planning.shoots.choices import Light, Metering, Shade
from planning.shoots.daylight import Daylight, Level, Lost, Moment, turn_deg
from planning.shoots.evenness import GroupFalloff
from planning.shoots.models import SetUp
from planning.shoots.shadows import ShadowFill


class Weight(StrEnum):
    """How much a caution weighs."""

    RISK = "risk"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Something to know before it happens: what, and what to do about it.

    `rule` is the stable name of the rule that gave it, `source` where that comes from.
    """

    title: str
    sentence: str
    set_up: int | None = None
    weight: Weight = Weight.RISK
    rule: str = ""
    source: str = ""

    @property
    def is_risk(self) -> bool:
        """Whether it must not be overlooked."""
        return self.weight is Weight.RISK


@dataclass(frozen=True, slots=True, kw_only=True)
class LightingFacts:
    """What the flashes and the board of a set-up are, beside their names."""

    camera_upright: bool
    from_lens_m: float | None
    """How far the flash sits from the lens; None where it stands by itself."""
    path_m: float
    bounced_off: str
    metering: Metering
    is_optical_slave: bool
    pace: float
    second_name: str
    second_distance_m: float
    second_bearing_deg: float
    modifier_name: str
    second_modifier_name: str
    board_distance_m: float
    board_bearing_deg: float
    board_size: str
    board_is_dark: bool
    measured: str = ""
    """What test frames found of flash and modifier; nothing where none were shot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpFacts:
    """What a set-up is, as its row says."""

    pk: int
    number: int
    name: str
    note: str
    starts_at: datetime
    ends_at: datetime
    light: Light
    shade: Shade
    shaded_from_at: datetime | None
    shaded_until_at: datetime | None
    heading_deg: float
    facing_deg: float
    people: int
    depth_m: float
    distance_m: float
    focal_length_mm: float
    frame_deg: float
    lens_words: str
    support: str
    movement_words: str
    frames: int
    flash_name: str
    flash_bearing_deg: float
    board_name: str
    lighting: LightingFacts
    window_sight: tuple[float, float] | None = None
    """Where the middle of a known window is seen from the sitters, and half its width,
    in degrees."""

    @property
    def minutes(self) -> int:
        """How long it takes."""
        return int((self.ends_at - self.starts_at).total_seconds() // 60)

    @property
    def middle_at(self) -> datetime:
        """The middle of it."""
        return self.starts_at + (self.ends_at - self.starts_at) / 2

    def is_shaded(self, at: datetime) -> bool:
        """Say whether something at the set-up itself keeps the sun off then."""
        if self.shade == Shade.NOTHING:
            return False
        after = self.shaded_from_at is None or at >= self.shaded_from_at
        before = self.shaded_until_at is None or at < self.shaded_until_at
        return after and before


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSetUp:
    """A set-up with its light and what the solver says to it."""

    facts: SetUpFacts
    start: Level
    end: Level
    sun_start: Moment
    sun_middle: Moment
    sun_end: Moment
    fill: ShadowFill
    suggestion: Suggestion | None
    trouble: str = ""
    falloff: GroupFalloff | None = None
    shift: LightShift | None = None
    shift_words: str = ""
    """What a frame moved its light by; nothing where none did."""

    @property
    def in_sun_at_start(self) -> bool:
        """Whether the sun reaches the sitters when it starts."""
        return self._in_sun(self.sun_start)

    @property
    def in_sun_at_end(self) -> bool:
        """Whether the sun still reaches the sitters when it ends."""
        return self._in_sun(self.sun_end)

    @property
    def in_sun(self) -> bool:
        """Whether the sun reaches the sitters in the middle of it."""
        return self._in_sun(self.sun_middle)

    @property
    def sun_turn_deg(self) -> float:
        """Where the sun stands from the camera's heading: right of it is above 0."""
        return turn_deg(self.sun_middle.azimuth_deg, self.facts.heading_deg)

    @property
    def sun_words(self) -> str:
        """Where the sun is, as somebody behind the camera says it."""
        if not self.sun_middle.is_up:
            return "Sun down"
        words = sun_words(self.sun_turn_deg)
        if behind := self.sun_middle.hidden_by:
            return f"{words}, hidden by {behind.name or 'the skyline'}"
        return words

    @property
    def is_flash_lit(self) -> bool:
        """Whether a flash sets the exposure, whatever the daylight does."""
        return self.facts.light == Light.FLASH and bool(self.facts.flash_name)

    def _in_sun(self, moment: Moment) -> bool:
        return (
            self.facts.light == Light.OPEN_SKY
            and moment.is_shining
            and not self.facts.is_shaded(moment.at)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedShoot:
    """A booking's whole light plan, worked out for one sky."""

    booking_id: int
    title: str
    place_name: str
    starts_at: datetime
    ends_at: datetime
    sky: Sky
    sky_words: str
    light: Daylight
    lost: Lost | None
    set_ups: tuple[PlannedSetUp, ...]
    cautions: tuple[Caution, ...]
    rows: tuple[SetUp, ...] = ()
    """The rows that `set_ups` were worked out from, in their order."""
    shifts: tuple[LightShift, ...] = ()
    """What frames found of this light, under this sky, the latest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fallback:
    """What a set-up comes to if the sky is not as planned.

    `suggestion` None: no settings can be worked out. `gives` names the limit that
    they break, or else what they give up that the plan does not.
    """

    number: int
    sky_words: str
    suggestion: Suggestion | None
    gives: str
    differs: bool


def short_words(limit: Limit) -> str:
    """Return by how much a broken limit is missed: "2.7 stops short"."""
    if limit.short_stops == inf:
        return "no setting can meet it"
    return f"{limit.short_stops:.1f} stops short"


def sun_words(turn: float) -> str:
    """Return where the sun stands, from its turn off the camera's heading."""
    side = "right" if turn > 0 else "left"
    size = abs(turn)
    if size <= 22.5:
        return "Sun ahead"
    if size < 67.5:
        return f"Sun ahead, {side}"
    if size <= 112.5:
        return f"Sun from camera {side}"
    if size < 157.5:
        return f"Sun behind you, {side}"
    return "Sun behind you"


# Public convention of the compass rose, by sixteenths from north.
_POINTS = (
    *("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE"),
    *("S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"),
)


def compass(azimuth_deg: float) -> str:
    """Return the compass point of an azimuth, by sixteenths: 247 is WSW."""
    return _POINTS[int((azimuth_deg % 360.0) / 22.5 + 0.5) % 16]
