import pytest
from django.core.exceptions import ValidationError

from studio.forms import Heading, HeadingField, read_heading


@pytest.mark.parametrize(
    ("text", "heading"),
    [
        ("225", Heading(225.0)),
        ("225°", Heading(225.0)),
        ("wsw", Heading(247.5)),
        ("West-South-West", Heading(247.5)),
        ("NE", Heading(45.0)),
        ("225 magnetic", Heading(225.0, is_magnetic=True)),
        ("225M", Heading(225.0, is_magnetic=True)),
        ("225,5° mag", Heading(225.5, is_magnetic=True)),
        ("sw true", Heading(225.0)),
        ("360", Heading(0.0)),
    ],
)
def test_a_heading_is_understood_as_people_write_it(
    text: str, heading: Heading
) -> None:
    assert read_heading(text) == heading


@pytest.mark.parametrize("text", ["361", "nowhere", "-4", "12 34", "NNS", "225 X"])
def test_what_is_no_heading_is_refused_with_examples(text: str) -> None:
    with pytest.raises(ValidationError, match="225, WSW, 225 magnetic"):
        HeadingField().clean(text)


def test_the_needle_is_turned_true_by_the_variation() -> None:
    # The navigator's rule: east is added, west taken off. Magnetic 225 with 10 W is
    # 215 true; magnetic 355 with 12 E is 7 true.
    assert Heading(225.0, is_magnetic=True).true_deg(-10.0) == 215.0
    assert Heading(355.0, is_magnetic=True).true_deg(12.0) == 7.0
    assert Heading(225.0).true_deg(-10.0) == 225.0


def test_a_needle_without_a_variation_is_asked_for_it() -> None:
    with pytest.raises(ValidationError, match="variation of this place"):
        Heading(225.0, is_magnetic=True).true_deg(None)
