"""Design tokens: the one source of colours, type sizes and steps of space.

The style sheet, the SVG painter and the PDF painter all read this module.
"""

import re
from collections.abc import Mapping
from types import MappingProxyType

COLOURS: Mapping[str, str] = MappingProxyType(
    {
        # Greys without a cast: pictures and swatches beside them are judged fairly.
        "white": "#FFFFFF",
        "g50": "#F7F7F7",
        "g100": "#EEEEEE",
        "g200": "#DEDEDE",
        "g300": "#C4C4C4",
        "g400": "#9B9B9B",
        "g500": "#757575",
        "g600": "#595959",
        "g700": "#404040",
        "ink": "#1B1B1B",
        # Dusk: what can be acted on.
        "dusk": "#2C3A8C",
        "dusk-deep": "#1D2763",
        "dusk-tint": "#E8EBF7",
        # Sun: light and nothing else, always with an ink outline.
        "sun": "#F4B223",
        "sun-deep": "#7A5100",
        "sun-tint": "#FFF2CC",
        # Rust: late, risky, invalid.
        "rust": "#A1260D",
        "rust-tint": "#FBE7E1",
        # Moss: paid, done.
        "moss": "#1F5C38",
        "moss-tint": "#E3F0E7",
    }
)

ROOT_PX = 17
SPACE_PX: Mapping[str, int] = MappingProxyType(
    {"1": 4, "2": 8, "3": 12, "4": 16, "6": 24, "8": 32, "12": 48}
)
SCREEN_REM: Mapping[str, float] = MappingProxyType(
    {
        "on-location": 2.9,
        "title": 2.0,
        "fact": 1.5,
        "section": 1.1875,
        "body": 1.0,
        "small": 0.875,
    }
)
PAPER_PT: Mapping[str, float] = MappingProxyType(
    {
        "display": 34.0,
        "title": 23.0,
        "fact": 21.0,
        "total": 17.0,
        "setting": 15.0,
        "section": 12.5,
        "letter": 11.0,
        "body": 10.0,
        "small": 9.5,
        "foot": 8.5,
    }
)
WEIGHTS = (400, 600, 700, 900)
RADIUS_PX = 2
CONTROL_REM: Mapping[str, float] = MappingProxyType(
    {"mouse": 2.5, "touch": 3.0, "on-location": 3.4}
)

_HEX = re.compile(r"#[0-9A-Fa-f]{6}")


def hex_of(colour: str) -> str:
    """Return the #RRGGBB of a token, or of a swatch that is written so already.

    Raises ValueError for anything else: the result goes into markup unescaped.
    """
    if colour in COLOURS:
        return COLOURS[colour]
    if _HEX.fullmatch(colour):
        return colour.upper()
    raise ValueError(f"{colour!r} is neither a colour token nor #RRGGBB")


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 for black to 1 for white.

    Source: WCAG 2.2, definition of relative luminance (sRGB), W3C 2023.
    """
    digits = hex_of(colour)
    channels = (int(digits[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(*, first: str, second: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21, whichever comes first.

    Source: WCAG 2.2, definition of contrast ratio, W3C 2023.
    """
    darker, lighter = sorted((luminance(first), luminance(second)))
    return (lighter + 0.05) / (darker + 0.05)


def css_properties() -> str:
    """Return the tokens as a `:root` rule of CSS custom properties."""
    lines = [f"  --{name}: {value};" for name, value in COLOURS.items()]
    lines += [f"  --space-{name}: {px}px;" for name, px in SPACE_PX.items()]
    lines += [f"  --type-{name}: {rem:g}rem;" for name, rem in SCREEN_REM.items()]
    lines += [f"  --control-{name}: {rem:g}rem;" for name, rem in CONTROL_REM.items()]
    lines.append(f"  --radius: {RADIUS_PX}px;")
    return "\n".join([":root {", f"  font-size: {ROOT_PX}px;", *lines, "}", ""])
