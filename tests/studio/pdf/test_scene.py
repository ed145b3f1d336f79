import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from studio.pdf.scene import Drawn
from studio.scene.drawing import (
    INK,
    Circle,
    Drawing,
    Hatch,
    Line,
    Op,
    Pen,
    Polygon,
    Polyline,
    Rect,
    Text,
)
from studio.scene.marks import stage_mark
from tests.studio.pdf.reading import printed, words


def drawn(*ops: Op, width: float = 200.0) -> bytes:
    return printed(Drawn(Drawing(100, 50, ops), width))


def code(paper: bytes) -> str:
    (page,) = PdfReader(BytesIO(paper)).pages
    contents = page.get_contents()
    assert contents is not None
    return contents.get_data().decode("latin-1")


def test_a_drawing_takes_its_height_from_its_width() -> None:
    flowable = Drawn(Drawing(100, 50, ()), 240.0)

    assert flowable.wrap(500, 500) == (240.0, 120.0)


def test_every_op_is_painted() -> None:
    ops: tuple[Op, ...] = (
        Rect(1, 2, 30, 4, "sun", INK, Hatch.RISING, radius=2),
        Rect(1, 2, 30, 4, None, Pen("ink", 1, (2, 1)), Hatch.UPRIGHT),
        Line(0, 0, 5, 5, Pen("rust", 1)),
        Polyline(((0, 0), (1, 1), (2, 0))),
        Polyline(((0, 0),)),
        Polygon(((0, 0), (1, 1), (2, 0)), "#12AB34", INK, Hatch.FALLING),
        Polygon((), "ink"),
        Circle(5, 5, 2, fill="moss"),
        Circle(5, 5, 2),
        Text(
            50, 20, "<b>Söhne</b>\n山", 8, anchor="middle", halo="white", rotate_deg=90
        ),
        Text(50, 30, "Ελένη", 8, anchor="end", weight=900),
    )

    found = words(drawn(*ops))

    assert "<b>Söhne</b>" in found
    assert "Ελένη" in found


def test_y_runs_downwards_from_the_upper_edge() -> None:
    painted = code(drawn(Rect(10, 5, 20, 8, fill="sun"), width=100.0))

    assert re.search(r"\b10 -13 20 8 re\b", painted)


def test_colours_are_those_of_the_tokens() -> None:
    # sun is #F4B223: 244, 178 and 35 of 255.
    painted = code(drawn(Rect(0, 0, 5, 5, fill="sun")))

    assert re.search(r"\.95686\d* \.69803\d* \.13725\d* rg", painted)


def test_a_huge_hatched_area_is_ruled_with_a_bounded_number_of_lines() -> None:
    area = Drawing(90_000, 90_000, (Rect(0, 0, 90_000, 90_000, hatch=Hatch.RISING),))

    assert len(printed(Drawn(area, 300.0))) < 60_000


@pytest.mark.parametrize("quarters", range(5))
def test_the_stage_of_a_job_fills_its_disc_by_quarters(quarters: int) -> None:
    mark = stage_mark(quarters)
    area = sum(_area(op) for op in mark.ops)

    assert area == pytest.approx(quarters / 4 * 3.14159 * 64, rel=0.02)


def _area(op: Op) -> float:
    if isinstance(op, Circle):
        return 3.14159 * op.radius**2 if op.fill else 0.0
    if not isinstance(op, Polygon):
        return 0.0
    ends = [*op.points[1:], op.points[0]]
    pairs = zip(op.points, ends, strict=True)
    return abs(sum(a * d - b * c for (a, b), (c, d) in pairs)) / 2


def test_a_disc_has_four_quarters() -> None:
    with pytest.raises(ValueError, match="5"):
        stage_mark(5)
