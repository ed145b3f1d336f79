"""Nap times as people write them, and whether one falls into a session."""

from __future__ import annotations

import re
from datetime import time
from typing import Final

from studio.errors import DomainError

Nap = tuple[time, time]
MOST_NAPS: Final = 4
_TIME: Final = r"(\d{1,2})(?:[:.h](\d{2}))?"
_NAP: Final = re.compile(rf"{_TIME}\s*(?:–|—|-|to|until)\s*{_TIME}", re.IGNORECASE)


class NapError(DomainError):
    """Nap times that cannot be read; the reason is fit to show."""


def read_naps(text: str) -> tuple[Nap, ...]:
    """Return the naps that a text names: "12:30–14:00, 16-17". Raises NapError."""
    parts = [part for part in re.split(r"\s*(?:,|;|\band\b)\s*", text.strip()) if part]
    if len(parts) > MOST_NAPS:
        raise NapError(f"Write {MOST_NAPS} naps at most.")
    return tuple(_nap(part) for part in parts)


def nap_words(naps: tuple[Nap, ...]) -> str:
    """Return naps as pages show them: 12:30–14:00, 16:00–17:00."""
    return ", ".join(f"{start:%H:%M}–{end:%H:%M}" for start, end in naps)


def _nap(part: str) -> Nap:
    found = _NAP.fullmatch(part.strip())
    if found is None:
        raise NapError("Write from when to when, like 12:30–14:00.")
    start, end = _clock(*found.group(1, 2)), _clock(*found.group(3, 4))
    if end <= start:
        raise NapError(f"The nap {start:%H:%M}–{end:%H:%M} ends before it starts.")
    return start, end


def _clock(hour: str, minute: str | None) -> time:
    try:
        return time(int(hour), int(minute or 0))
    except ValueError:
        raise NapError(f"{hour}:{minute or '00'} is no time of day.") from None
