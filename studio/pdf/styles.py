"""The styles of type on paper, by what they are for. Sizes are points."""

from dataclasses import dataclass, replace
from typing import Final

from studio.scene.drawing import Anchor, Weight
from studio.scene.tokens import PAPER_PT


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How words are set: size, line height, weight, colour, side, space around."""

    size: float = PAPER_PT["body"]
    leading: float = 0.0
    weight: Weight = 400
    colour: str = "ink"
    align: Anchor = "start"
    space_before: float = 0.0
    space_after: float = 0.0
    keep_with_next: bool = False

    def __post_init__(self) -> None:
        if not self.leading:
            object.__setattr__(self, "leading", round(self.size * 1.28, 1))


def right(style: Style) -> Style:
    """Return a style set against the right edge, as numbers are."""
    return replace(style, align="end")


def centred(style: Style) -> Style:
    """Return a style set about the middle."""
    return replace(style, align="middle")


BODY: Final = Style()
BOLD: Final = Style(weight=700)
LETTER: Final = Style(size=PAPER_PT["letter"], leading=15.2)
ROW: Final = Style(size=10.5, leading=13.5)
ROW_TITLE: Final = replace(ROW, weight=700)
ROW_NUMBER: Final = right(ROW)
ROW_AMOUNT: Final = right(replace(ROW, weight=600))
SMALL: Final = Style(size=PAPER_PT["small"], leading=12.0, colour="g700")
LABEL: Final = SMALL
HEAD: Final = replace(SMALL, weight=600)
SECTION: Final = Style(
    size=PAPER_PT["section"],
    weight=700,
    space_before=9.0,
    space_after=3.0,
    keep_with_next=True,
)
SETTING: Final = Style(size=PAPER_PT["setting"], leading=17.0, weight=700)
TOTAL: Final = Style(size=PAPER_PT["total"], leading=20.0, weight=700)
FACT: Final = Style(size=PAPER_PT["fact"], leading=23.0, weight=700)
TITLE: Final = Style(size=PAPER_PT["title"], weight=700)
DISPLAY: Final = Style(size=PAPER_PT["display"], weight=700)
FOOT: Final = Style(size=PAPER_PT["foot"], colour="g700")
