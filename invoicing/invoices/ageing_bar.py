"""The ageing bar: what is owed as one bar, the later the darker."""

from __future__ import annotations

from collections.abc import Sequence

from studio.money import Money
from studio.scene.drawing import Drawing, Op, Pen, Rect, Text
from studio.wording import money_words

FILLS = ("white", "g300", "g500", "g600", "ink")
WIDTH, HEIGHT, TYPE = 1000.0, 22.0, 13.0


def ageing_bar(shares: Sequence[tuple[str, Money]]) -> Drawing:
    """Draw what is owed by how late it is; buckets that are empty take no room."""
    owed = sum(money.minor for _, money in shares)
    ops: list[Op] = []
    left, last_end = 0.0, -1.0
    for fill, (name, money) in zip(FILLS, shares, strict=True):
        if not money.minor:
            continue
        width = WIDTH * money.minor / owed
        ops.append(Rect(left, 1, width, HEIGHT, fill=fill, pen=Pen("ink", 1.4)))
        ops += _label(left, width, name, money_words(money), last_end)
        last_end = max(last_end, left + 7.2 * max(len(name), 10))
        left += width
    return Drawing(
        width=WIDTH,
        height=HEIGHT + 2.9 * TYPE,
        ops=tuple(ops),
        title="What is owed, by how late it is",
        description="; ".join(
            f"{name}: {money_words(money)}" for name, money in shares if money.minor
        ),
    )


def _label(
    left: float, width: float, name: str, words: str, last_end: float
) -> list[Op]:
    at_end = left < last_end or left + 7.2 * len(name) > WIDTH
    x = left + width if at_end else left
    anchor = "end" if at_end else "start"
    y = HEIGHT + 1.2 * TYPE
    grey = Text(x, y, name, TYPE, "g700", "end" if anchor == "end" else "start")
    bold = Text(x, y + 1.25 * TYPE, words, TYPE, "ink", grey.anchor, 700)
    return [grey, bold]
