"""One set-up from above, north up: sitters in the middle, and all that lights them."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from planning.shoots.planned import PlannedSetUp
from studio.scene.drawing import Circle, Drawing, Line, Op, Pen, Point, Polygon, Text

RADIUS = 44.0
TYPE = 11.0


def set_up_dial(planned: PlannedSetUp) -> Drawing:
    """Draw a set-up's dial; its description says in words where everything is."""
    centre = RADIUS + 1.25 * TYPE
    dial = _Dial(centre)
    ops: list[Op] = [*dial.face()]
    facts = planned.facts
    if facts.flash_name:
        ops += dial.lamp(facts.heading_deg, facts.flash_bearing_deg)
    if facts.lighting.second_name:
        ops += dial.lamp(facts.heading_deg, facts.lighting.second_bearing_deg)
    ops += dial.sun(planned)
    ops += dial.sitters(facts.facing_deg)
    if facts.board_name:
        ops += dial.board(facts.heading_deg, facts.lighting.board_bearing_deg)
    ops += dial.camera(facts.heading_deg)
    return Drawing(
        width=2 * centre,
        height=2 * centre,
        ops=tuple(ops),
        title=f"Set-up {facts.number} from above",
        description=_words(planned),
    )


def _words(planned: PlannedSetUp) -> str:
    facts = planned.facts
    said = [
        f"Camera looks {facts.heading_deg:.0f} degrees, true",
        f"Sitters look {facts.facing_deg:.0f} degrees",
        planned.sun_words,
    ]
    if facts.flash_name:
        said.append(f"Flash {_beside(facts.flash_bearing_deg)}")
    if facts.lighting.second_name:
        said.append(f"Second flash {_beside(facts.lighting.second_bearing_deg)}")
    if facts.board_name:
        said.append(f"Board {_beside(facts.lighting.board_bearing_deg)}")
    return ". ".join(said) + "."


def _beside(bearing_deg: float) -> str:
    side = "right" if bearing_deg >= 0 else "left"
    return f"{abs(bearing_deg):.0f} degrees camera {side}"


class _Dial:
    def __init__(self, centre: float) -> None:
        self.centre = centre

    def point(self, azimuth_deg: float, share: float) -> Point:
        """Return the point in a direction, a share of the radius out."""
        angle, reach = radians(azimuth_deg), share * RADIUS
        return self.centre + reach * sin(angle), self.centre - reach * cos(angle)

    def face(self) -> Iterator[Op]:
        yield Circle(
            self.centre, self.centre, RADIUS, fill="white", pen=Pen("g500", 1.0)
        )
        for azimuth in (0.0, 90.0, 180.0, 270.0):
            (x1, y1), (x2, y2) = self.point(azimuth, 1.0), self.point(azimuth, 0.91)
            yield Line(x1, y1, x2, y2, Pen("g600", 1.0))
        top = self.centre - RADIUS - 0.32 * TYPE
        yield Text(self.centre, top, "N", TYPE, anchor="middle", weight=700)

    def sitters(self, facing_deg: float) -> Iterator[Op]:
        """Give the sitters, with a nose towards where they look."""
        nose = (
            self.point(facing_deg, 0.3),
            self.point(facing_deg - 50.0, 0.15),
            self.point(facing_deg + 50.0, 0.15),
        )
        yield Polygon(nose, fill="ink")
        yield Circle(self.centre, self.centre, 0.15 * RADIUS, fill="ink")

    def sun(self, planned: PlannedSetUp) -> Iterator[Op]:
        sun = planned.sun_middle
        x, y = self.point(sun.azimuth_deg, 1.0)
        camera_at = (planned.facts.heading_deg + 180.0) % 360.0
        beside_camera = abs((sun.azimuth_deg - camera_at + 180) % 360 - 180) < 28.0
        if sun.is_up and not beside_camera:
            yield from self._beam(sun.azimuth_deg, direct=planned.in_sun)
        size = 0.15 * RADIUS + 2.0
        yield Circle(
            x, y, size, fill="sun" if sun.is_up else "white", pen=Pen("ink", 1.5)
        )
        if not sun.is_up:
            yield Line(x - 4, y + 4, x + 4, y - 4, Pen("ink", 1.2))

    def _beam(self, azimuth_deg: float, *, direct: bool) -> Iterator[Op]:
        pen = Pen("ink", 1.6, () if direct else (3.0, 2.4))
        (x1, y1), (x2, y2) = self.point(azimuth_deg, 1.0), self.point(azimuth_deg, 0.34)
        yield Line(x1, y1, x2, y2, pen)
        for turn in (-24.0, 24.0):
            angle, size = radians(azimuth_deg + turn), 0.2 * RADIUS
            yield Line(
                x2, y2, x2 + size * sin(angle), y2 - size * cos(angle), Pen("ink", 1.6)
            )

    def lamp(self, heading_deg: float, bearing_deg: float) -> Iterator[Op]:
        """Give a flash that stands so far beside the camera: right of it above 0."""
        at = heading_deg + 180.0 - bearing_deg
        (fx, fy), (tx, ty) = self.point(at, 0.86), self.point(at, 0.3)
        yield Line(fx, fy, tx, ty, Pen("ink", 1.6, (3.0, 2.4)))
        yield self._box(fx, fy, at, (5.5, 5.5), fill="sun")

    def board(self, heading_deg: float, bearing_deg: float) -> Iterator[Op]:
        """Give a board that stands so far beside the camera: right of it above 0."""
        at = heading_deg + 180.0 - bearing_deg
        x, y = self.point(at, 0.46)
        yield self._box(x, y, at, (1.6, 9.0), fill="white")

    def camera(self, heading_deg: float) -> Iterator[Op]:
        x, y = self.point(heading_deg + 180.0, 0.6)
        size = 0.135 * RADIUS
        yield self._box(x, y, heading_deg, (size, size * 1.35), fill="white")
        corners = ((1.0, -0.55), (2.0, -0.9), (2.0, 0.9), (1.0, 0.55))
        lens = [(along * size, across * size) for along, across in corners]
        yield self._shape(x, y, heading_deg, lens, fill="ink")

    def _box(
        self, x: float, y: float, azimuth: float, half: Point, *, fill: str
    ) -> Polygon:
        along, across = half
        corners = [(-along, -across), (along, -across), (along, across)]
        return self._shape(x, y, azimuth, [*corners, (-along, across)], fill=fill)

    def _shape(
        self, x: float, y: float, azimuth: float, corners: list[Point], *, fill: str
    ) -> Polygon:
        angle = radians(azimuth)
        ux, uy = sin(angle), -cos(angle)
        points = tuple(
            (x + ux * along - uy * across, y + uy * along + ux * across)
            for along, across in corners
        )
        return Polygon(points, fill=fill, pen=Pen("ink", 1.5))
