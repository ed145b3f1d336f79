import re

import pytest

from studio.scene.tokens import COLOURS, contrast, css_properties, hex_of, luminance


def test_black_on_white_has_the_greatest_contrast() -> None:
    # WCAG 2.2, definition of contrast ratio: from 1 to 21.
    assert contrast(first="#000000", second="white") == pytest.approx(21.0)
    assert contrast(first="rust", second="rust") == 1.0


def test_mid_grey_has_the_contrast_that_everybody_quotes() -> None:
    # #767676 is widely given as the lightest grey of 4.54 to 1 on white
    # (WebAIM, "Contrast and Color Accessibility").
    assert contrast(first="#767676", second="#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize(
    ("front", "back"),
    [
        ("ink", "white"),
        ("ink", "g100"),
        ("ink", "sun"),
        ("g700", "white"),
        ("g600", "g100"),
        ("dusk", "g100"),
        ("white", "dusk"),
        ("rust", "rust-tint"),
        ("moss", "moss-tint"),
        ("sun-deep", "sun-tint"),
    ],
)
def test_words_are_readable_on_their_ground(front: str, back: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for words.
    assert contrast(first=front, second=back) >= 4.5


def test_phases_of_the_day_darken_evenly() -> None:
    greys = ["white", "g200", "g400", "g500", "g600"]

    brightness = [luminance(grey) for grey in greys]

    assert brightness == sorted(brightness, reverse=True)
    assert all(hex_of(grey)[1:3] * 3 == hex_of(grey)[1:] for grey in greys)


@pytest.mark.parametrize("wrong", ["red", "", '"/><script>', "#12345", "#1234567"])
def test_only_tokens_and_hex_are_colours(wrong: str) -> None:
    with pytest.raises(ValueError, match="colour"):
        hex_of(wrong)


def test_the_style_sheet_gets_every_colour() -> None:
    found = dict(re.findall(r"--([a-z0-9-]+): (#[0-9A-F]{6});", css_properties()))

    assert found == dict(COLOURS)
