"""The times of sittings within a session: plain arithmetic."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Final

from studio.timespan import TimeSpan

MOST: Final = 120


def times_of(
    span: TimeSpan,
    *,
    length: timedelta,
    gap: timedelta = timedelta(),
    pauses: Iterable[TimeSpan] = (),
) -> list[TimeSpan]:
    """Return the sittings that fit into a session, one after another.

    One that would run into a pause begins when the pause ends. Raises ValueError
    where a sitting has no length or the gap is below zero.
    """
    if length <= timedelta() or gap < timedelta():
        raise ValueError(f"no sittings of {length} with {gap} between")
    ahead = sorted(pauses, key=lambda pause: pause.start)
    found: list[TimeSpan] = []
    start = span.start
    while start + length <= span.end and len(found) < MOST:
        sitting = TimeSpan(start, start + length)
        pause = next((one for one in ahead if one.overlaps(sitting)), None)
        if pause:
            start = pause.end
            continue
        found.append(sitting)
        start = sitting.end + gap
    return found
