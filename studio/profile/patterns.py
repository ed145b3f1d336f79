"""How numbers are written: {year} and {place} set into a pattern."""

from __future__ import annotations

import re
from typing import Final

_SHAPE: Final = re.compile(
    r"(?:[0-9A-Za-z._-]|\{year\}|\{place(?::0[2-8]d)?\})+", re.ASCII
)
_PLACE: Final = re.compile(r"\{place(?::0[2-8]d)?\}")
LONGEST: Final = 24


class PatternError(ValueError):
    """A pattern would not give usable numbers; the message says why."""


def check_pattern(pattern: str) -> str:
    """Return the 18th number of 2027 under a pattern. Errors: PatternError.

    Numbers name files and stand in bank references: letters, digits, full stops,
    hyphens and underscores only, and the year and place must be told apart.
    """
    if not _SHAPE.fullmatch(pattern):
        raise PatternError(
            "Use letters, digits, hyphens, {year}, and {place} or {place:03d}."
        )
    if pattern.count("{year}") != 1 or len(_PLACE.findall(pattern)) != 1:
        raise PatternError("Name {year} and {place} once each: numbers start anew.")
    between = re.split(r"\{[^}]*\}", pattern)[1]
    if not between or between[0].isdigit() or between[-1].isdigit():
        raise PatternError("Set a hyphen or a letter between {year} and {place}.")
    sample = pattern.format(year=2027, place=18)
    if len(sample) > LONGEST:
        raise PatternError(f"Keep the number within {LONGEST} signs.")
    return sample
