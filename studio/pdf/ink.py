"""Words put on the canvas: the one place that writes text into a PDF."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any, Final, NamedTuple

from studio.pdf.faces import Font
from studio.pdf.fonts import BOX_EM, Type
from studio.scene.tokens import hex_of

_BOX_HEIGHT_EM: Final = 0.66
_BOX_GAP_EM: Final = 0.07


class Written(NamedTuple):
    """Words on a baseline, from their left end; lengths in points."""

    x: float
    y: float
    words: str
    type: Type
    colour: str = "ink"


def rgb(colour: str) -> tuple[float, float, float]:
    """Return a token or #RRGGBB as three shares of full light."""
    digits = hex_of(colour)
    red, green, blue = (int(digits[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    return red, green, blue


def put_words(
    canvas: Any, words: Iterable[Written], *, size: float, halo: str | None = None
) -> None:
    """Write words of one size; what no font has is drawn as a box.

    With a `halo` each is rimmed in that colour first, to be read over lines. The
    canvas keeps its own colour and font: all is undone at the end.
    """
    code: list[str] = ["q BT"]
    boxes: list[str] = []
    colour = ""
    for item in words:
        if item.colour != colour:
            colour = item.colour
            code.append(f"{_colour(colour)} rg")
        x = item.x
        runs = item.type.runs(item.words)
        for run in runs:
            if run.font is None:
                boxes += _boxes(len(run.words), x, item, size)
            else:
                place = f"1 0 0 1 {x:.2f} {item.y:.2f} Tm"
                shown = _glyphs(canvas, run.font, run.words, size)
                if halo:
                    rim = f"{_colour(halo)} RG {size * 0.2:.2f} w 1 j 1 Tr"
                    code.append(f"{rim} {place} {shown} 0 Tr")
                code.append(f"{place} {shown}")
            if len(runs) > 1:
                x += item.type.width(run.words, size=size)
    code += ["ET", *boxes, "Q"]
    canvas._code.append(" ".join(code))


def _glyphs(canvas: Any, font: Font, words: str, size: float) -> str:
    document = canvas._doc
    if coded := font.coded(words):
        return f"{font.named(document)} {size:g} Tf {coded} Tj"
    return " ".join(
        [
            f"{font.getSubsetInternalName(subset, document)} {size:g} Tf"
            f" ({canvas._escape(codes)}) Tj"
            for subset, codes in font.splitString(words, document)
        ]
    )


def _boxes(count: int, x: float, item: Written, size: float) -> list[str]:
    gap = size * _BOX_GAP_EM
    width = size * BOX_EM
    code = [f"{_colour(item.colour)} RG {size * 0.06:.2f} w"]
    for place in range(count):
        left = x + place * width + gap
        inner = width - 2 * gap
        code.append(
            f"{left:.2f} {item.y:.2f} {inner:.2f} {size * _BOX_HEIGHT_EM:.2f} re S"
        )
    return code


@lru_cache(maxsize=256)
def _colour(colour: str) -> str:
    return "{:.4g} {:.4g} {:.4g}".format(*rgb(colour))
