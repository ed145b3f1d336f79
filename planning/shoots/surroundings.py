"""Outdoors: what sky, ground and a wall leave on the shadow side, against the lit side.

Upright planes: the face as it looks, and its two sides, 90 degrees off. The lit side is
the brightest of them, the shadow side the darker of the sides. Good to a stop: a real
head is round, and what stands about is not all known.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

from planning.light.fill import board_fill_lux, rectangle_factor
from planning.light.illuminance import Sky
from planning.shoots.choices import Light, WallOutdoors
from planning.shoots.daylight import BARE_LOSS_STOPS, Daylight, Moment, turn_deg
from planning.shoots.models import SetUp
from planning.shoots.planned import SetUpFacts

FACE_HEIGHT_M = 1.5
SIDES_DEG = (-90.0, 90.0)
SHADE_HIDES = 0.5
"""The part of a side's sky that is behind what gives the open shade."""
WALL_REFLECTANCE = {  # white paint 0.8: old handbook tables; rest common practice
    WallOutdoors.WHITE: 0.75,
    WallOutdoors.LIGHT: 0.5,
    WallOutdoors.BRICK: 0.3,
    WallOutdoors.DARK: 0.12,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Light on the lit and on the shadow side of a face, in lux.

    `wall_lux` is the part of the shadow side's light that a wall throws.
    """

    lit_lux: float
    shadow_lux: float
    wall_lux: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Here:
    """A set-up under its sky at one moment, and what falls on the ground about it."""

    row: SetUp
    light: Daylight
    moment: Moment
    sky: Sky
    in_shade: bool

    @property
    def sun_lux(self) -> float:
        """The sun on a plane that faces it, through bare crowns if they stand there."""
        if self.in_shade or not self.moment.is_shining:
            return 0.0
        loss = sum(BARE_LOSS_STOPS) / 2.0 if self.moment.thinned_by else 0.0
        return float(self.light.sun_lux(self.moment, self.sky) / 2.0**loss)

    @property
    def ground_lux(self) -> float:
        """What falls on the ground at the sitters' feet."""
        if self.in_shade:
            return self.light.shade_lux(self.moment, self.sky)
        up = max(sin(radians(self.moment.altitude_deg)), 0.0)
        return self.light.sky_lux(self.moment, self.sky) + self.sun_lux * up

    def sky_on(self, facing_deg: float) -> float:
        """Return the sky's light on an upright plane.

        Under broken cloud as clear and closed skies share theirs out, on average: IES
        1984 leaves a wall turned from the sun without any, and no sky does.
        """
        if self.sky is not Sky.PARTLY_CLOUDY:
            return self.light.sky_on_wall_lux(self.moment, self.sky, facing_deg)
        shares = [
            self.light.sky_on_wall_lux(self.moment, one, facing_deg)
            / self.light.sky_lux(self.moment, one)
            for one in (Sky.CLEAR, Sky.OVERCAST)
        ]
        return self.light.sky_lux(self.moment, self.sky) * sum(shares) / len(shares)

    def sun_on(self, facing_deg: float, sun_lux: float) -> float:
        """Return the sun's light on an upright plane."""
        turn = radians(turn_deg(self.moment.azimuth_deg, facing_deg))
        return sun_lux * cos(radians(self.moment.altitude_deg)) * max(cos(turn), 0.0)

    def from_ground(self) -> float:
        """Return what the ground throws up on an upright plane."""
        return self.ground_lux * self.light.where.ground_reflectance / 2.0


def sides_of(
    row: SetUp, facts: SetUpFacts, moment: Moment, light: Daylight, sky: Sky
) -> Sides | None:
    """Return the light on both sides of a face outdoors; None by a window or flash."""
    if facts.light not in {Light.OPEN_SKY, Light.OPEN_SHADE}:
        return None
    shaded = facts.light == Light.OPEN_SHADE or facts.is_shaded(moment.at)
    hidden = moment.is_up and not moment.is_shining
    here = _Here(
        row=row, light=light, moment=moment, sky=sky, in_shade=shaded or hidden
    )
    hides = SHADE_HIDES if shaded else 0.0
    sides = [_side(here, facts.facing_deg + turn, hides) for turn in SIDES_DEG]
    darker, brighter = sorted(sides, key=lambda one: one.shadow_lux)
    if here.in_shade:
        lit = light.shade_lux(moment, sky)
    else:
        sun = here.sun_on(facts.facing_deg, here.sun_lux)
        face = here.sky_on(facts.facing_deg) + sun + here.from_ground()
        lit = max(face, brighter.shadow_lux)
    return Sides(lit_lux=lit, shadow_lux=darker.shadow_lux, wall_lux=darker.wall_lux)


def _side(here: _Here, facing_deg: float, hides: float) -> Sides:
    """Return the light on one side of the face; a wall hides sky and ground there."""
    above, below = _wall_factors(here.row, facing_deg)
    sky = here.sky_on(facing_deg) * (1.0 - hides) * (1.0 - 2.0 * above)
    ground = here.from_ground() * (1.0 - 2.0 * below)
    sun = here.sun_on(facing_deg, here.sun_lux)
    wall = 0.0
    if above + below > 0.0:
        wall = board_fill_lux(
            board_lux=_on_wall(here),
            reflectance=WALL_REFLECTANCE[WallOutdoors(here.row.wall_tone)],
            factor=min(above + below, 1.0),
        )
    whole = sky + ground + sun + wall
    return Sides(lit_lux=whole, shadow_lux=whole, wall_lux=wall)


def _on_wall(here: _Here) -> float:
    """Return the light on the wall itself, which faces the sitters."""
    faces_deg = wall_azimuth_deg(here.row) + 180.0
    lux = here.sky_on(faces_deg) + here.from_ground()
    if here.row.wall_in_sun and here.moment.is_up:
        lux += here.sun_on(faces_deg, here.light.sun_lux(here.moment, here.sky))
    return lux


def wall_azimuth_deg(row: SetUp) -> float:
    """Return where a set-up's wall stands from its sitters, true."""
    return (row.camera_heading_deg + 180.0 - row.wall_bearing_deg) % 360.0


def _wall_factors(row: SetUp, facing_deg: float) -> tuple[float, float]:
    """Return the share of a side's view that the wall fills, above and below eyes."""
    if not row.wall_tone:
        return 0.0, 0.0
    eyes = FACE_HEIGHT_M
    above = _factor(row, facing_deg, 0.0, max(row.wall_height_m - eyes, 0.0))
    below = _factor(row, facing_deg, -eyes, min(row.wall_height_m - eyes, 0.0))
    return min(above, 0.5), min(below, 0.5)


def _factor(row: SetUp, facing_deg: float, low_m: float, high_m: float) -> float:
    """Return the share of a part of the wall, between two heights from the eyes."""
    if high_m - low_m < 0.01:
        return 0.0
    to = radians(wall_azimuth_deg(row))
    out, along = (sin(to), cos(to)), (cos(to), -sin(to))

    def corner(aside: float, up_m: float) -> tuple[float, float, float]:
        east, north = (
            row.wall_distance_m * away + aside * row.wall_width_m / 2.0 * side
            for away, side in zip(out, along, strict=True)
        )
        return east, north, up_m

    return rectangle_factor(
        corners_m=[
            corner(-1.0, low_m),
            corner(1.0, low_m),
            corner(1.0, high_m),
            corner(-1.0, high_m),
        ],
        point_m=(0.0, 0.0, 0.0),
        normal=(sin(radians(facing_deg)), cos(radians(facing_deg)), 0.0),
    )
