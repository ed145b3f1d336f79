"""What changed since an earlier version, at the top of a paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from studio.pdf.grid import Column, Grid, Look, Row
from studio.pdf.styles import SMALL
from studio.pdf.tables import GROUP_RULE
from studio.pdf.text import bold, rich

MOST: Final = 12
"""So many changes are named on paper; the page behind the link names all."""


def changes_box(since: str, changes: Sequence[str]) -> list[Grid]:
    """Set the changes in one run of words under a heading; nothing without any."""
    if not changes:
        return []
    said = [f"{one.rstrip('.')}. " for one in changes[:MOST]]
    if more := len(changes) - MOST:
        said += [f"And {more} more."] if more > 0 else []
    words = rich(bold(f"{since}: "), *said, style=replace(SMALL, colour="ink"))
    look = Look(above=0.0, below=5.0, space_after=5.0)
    return [Grid([Column()], [Row(cells=(words,), rule=GROUP_RULE)], look=look)]
