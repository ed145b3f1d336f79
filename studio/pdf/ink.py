"""Words put on the canvas: the one place that writes text into a PDF."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any, Final, NamedTuple

from reportlab.lib.rl_accel import fp_str

from studio.pdf.faces import Font
from studio.pdf.fonts import BOX_EM, Type
from studio.scene.drawing import Pen
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


def put_words(canvas: Any, words: Iterable[Written], *, size: float) -> None:
    """Write words of one size; the canvas keeps its own colour and font."""
    canvas._code.append(written_words(canvas, words, size=size))


def written_words(
    canvas: Any, words: Iterable[Written], *, size: float, halo: str | None = None
) -> str:
    """Return the code that writes words of one size; what no font has is a drawn box.

    With a `halo` each is rimmed in that colour first, to be read over lines. All that
    is set is undone at the end.
    """
    code, boxes = ["q BT"], list[str]()
    rim = f"{_colour(halo)} RG {size * 0.2:.2f} w 1 j 1 Tr " if halo else ""
    colour, font, in_type = "", None, ""
    for item in words:
        if item.colour != colour:
            colour = item.colour
            code.append(f"{_colour(colour)} rg")
        main = item.type.main
        if item.words and (coded := main.coded(item.words)):
            if main is not font:
                font, in_type = main, f"{main.named(canvas._doc)} {size:g} Tf"
            shown = f"1 0 0 1 {item.x:.2f} {item.y:.2f} Tm {in_type} {coded} Tj"
            code.append(f"{rim}{shown} 0 Tr {shown}" if halo else shown)
        else:
            parts, missing = _in_runs(canvas, item, size)
            code += [f"{rim}{one} 0 Tr {one}" for one in parts] if halo else parts
            boxes += missing
    code += ["ET", *boxes, "Q"]
    return " ".join(code)


def _in_runs(canvas: Any, item: Written, size: float) -> tuple[list[str], list[str]]:
    """Return the code of words in runs of one font each, and that of boxes."""
    shown, boxes, x = [], [], item.x
    for font, part in item.type.runs(item.words):
        if font is None:
            boxes += _boxes(len(part), x, item, size)
        else:
            glyphs = _glyphs(canvas, font, part, size)
            shown.append(f"1 0 0 1 {x:.2f} {item.y:.2f} Tm {glyphs}")
        x += item.type.width(part, size=size)
    return shown, boxes


def put_rule(
    canvas: Any, pen: Pen, start: tuple[float, float], end: tuple[float, float]
) -> None:
    """Draw a straight line with a pen; the canvas keeps its own."""
    line = f"n {fp_str(*start)} m {fp_str(*end)} l S"
    canvas._code.append(f"q\n{_set_pen(pen)}\n{line}\nQ")


@lru_cache(maxsize=64)
def _set_pen(pen: Pen) -> str:
    colour, width = fp_str(*rgb(pen.colour)), fp_str(pen.width)
    return f"{colour} RG\n{width} w\n[{fp_str(*pen.dash)}] 0 d"


def _glyphs(canvas: Any, font: Font, words: str, size: float) -> str:
    document = canvas._doc
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
