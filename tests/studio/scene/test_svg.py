from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.scene.drawing import (
    Circle,
    Drawing,
    Hatch,
    Line,
    Pen,
    Polygon,
    Polyline,
    Rect,
    Text,
    badge,
    moved,
)
from studio.scene.svg import to_svg

SVG = "{http://www.w3.org/2000/svg}"


def drawn(*ops: Rect | Line | Polyline | Polygon | Circle | Text) -> Drawing:
    return Drawing(100, 50, ops, title="A & B", description="It <shows> something.")


EVERYTHING = drawn(
    Rect(1, 2, 30, 4.256, "sun", Pen("ink", 1.5), Hatch.RISING, radius=2),
    Rect(1, 2, 3, 4, hatch=Hatch.UPRIGHT),
    Line(0, 0, 5, 5, Pen("g300", 1, dash=(2, 3.5))),
    Polyline(((0, 0), (1, 1), (2, 0))),
    Polygon(((0, 0), (1, 1), (2, 0)), fill="#12ab34", hatch=Hatch.FALLING),
    Circle(5, 5, 2, fill="ink"),
    Text(3, 4, "Söhne & <b>", anchor="end", weight=700, rotate_deg=90, halo="white"),
    *badge(5, 5, "12"),
)


def test_the_markup_is_well_formed_without_style_or_script() -> None:
    markup = to_svg(EVERYTHING, ident="plan")

    root = ElementTree.fromstring(markup)  # noqa: S314  (our own markup)
    parts = list(root.iter())

    assert root.tag == f"{SVG}svg"
    assert root.get("viewBox") == "0 0 100 50"
    assert not any("style" in part.attrib or "href" in part.attrib for part in parts)
    assert not any(name.startswith("on") for part in parts for name in part.attrib)
    assert {part.tag.removeprefix(SVG) for part in parts} == {
        *("svg", "title", "desc", "defs", "pattern", "path"),
        *("rect", "polyline", "polygon", "circle", "text"),
    }


def test_a_drawing_is_named_and_described_for_screen_readers() -> None:
    root = ElementTree.fromstring(to_svg(EVERYTHING, ident="plan"))  # noqa: S314
    names = {part.get("id"): part.text for part in root.iter() if part.get("id")}

    spoken = (root.get("aria-labelledby") or "").split()

    assert root.get("role") == "img"
    assert [names[ident] for ident in spoken] == ["A & B", "It <shows> something."]


def test_a_hidden_drawing_says_nothing() -> None:
    markup = to_svg(EVERYTHING, ident="plan", hidden=True)

    assert 'aria-hidden="true"' in markup
    assert "<title" not in markup
    assert "role=" not in markup


def test_every_hatch_that_is_used_is_defined_under_the_ident() -> None:
    markup = to_svg(EVERYTHING, ident="plan")

    for hatch in Hatch:
        assert f'id="plan-{hatch.value}"' in markup
        assert f"url(#plan-{hatch.value})" in markup


@given(st.text(st.characters(exclude_categories=()), max_size=40))
def test_any_words_stay_words(words: str) -> None:
    markup = to_svg(drawn(Text(0, 0, words)), ident="a")

    root = ElementTree.fromstring(markup)  # noqa: S314
    assert [part.tag for part in root] == [
        f"{SVG}{n}" for n in ("title", "desc", "text")
    ]


def test_template_engines_take_the_markup_as_safe() -> None:
    markup = to_svg(EVERYTHING, ident="plan")

    assert markup.__html__() == markup
    assert "<b>" not in markup


@pytest.mark.parametrize("ident", ["", "1a", 'a"b', "a b", "a>"])
def test_an_ident_that_would_break_out_is_refused(ident: str) -> None:
    with pytest.raises(ValueError, match="cannot name"):
        to_svg(EVERYTHING, ident=ident)


def test_a_class_that_would_break_out_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot name"):
        to_svg(EVERYTHING, ident="a", css_class='x" onload="y')


def test_a_length_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="nan"):
        to_svg(drawn(Circle(float("nan"), 0, 1)), ident="a")


def test_a_drawing_without_size_is_refused() -> None:
    with pytest.raises(ValueError, match="0"):
        Drawing(0, 10, ())


def test_ops_can_be_moved_into_a_larger_drawing() -> None:
    there = moved(EVERYTHING.ops, dx=10, dy=-5)

    assert moved(there, dx=-10, dy=5) == EVERYTHING.ops
    assert there[2] == Line(10, -5, 15, 0, Pen("g300", 1, dash=(2, 3.5)))
