"""Public scales of weather: wind by Beaufort, sun by UV index, cloud in oktas."""

from __future__ import annotations

from bisect import bisect_right
from typing import Final

from planning.shoots.choices import SkyWord

BEAUFORT_FROM_MS: Final = (
    *(0.0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8),
    *(13.9, 17.2, 20.8, 24.5, 28.5, 32.7),
)
"""Where each force begins, in m/s: Beaufort scale of the WMO, from memory."""

BEAUFORT_WORDS: Final = (
    *("calm", "light air", "light breeze", "gentle breeze", "moderate breeze"),
    *("fresh breeze", "strong breeze", "near gale", "gale", "strong gale"),
    *("storm", "violent storm", "hurricane force"),
)
UV_FROM: Final = (0.0, 3.0, 6.0, 8.0, 11.0)
"""Where each exposure category begins: Global Solar UV Index, WHO 2002, from memory."""

UV_WORDS: Final = ("low", "moderate", "high", "very high", "extreme")
MS_IN: Final = {"mph": 0.44704, "km/h": 1 / 3.6, "knots": 1852 / 3600, "m/s": 1.0}
FEW_OKTAS: Final = 2
"""FEW is 1 to 2 oktas, SCT 3 to 4, BKN 5 to 7, OVC 8: ICAO Annex 3, from memory."""

ALL_OKTAS: Final = 8


def beaufort(speed_ms: float) -> int:
    """Return the Beaufort force of a mean wind."""
    return bisect_right(BEAUFORT_FROM_MS, round(speed_ms, 1)) - 1


def wind_words(speed_ms: float) -> str:
    """Return a wind in words: "force 5, fresh breeze"."""
    force = beaufort(speed_ms)
    return f"force {force}, {BEAUFORT_WORDS[force]}"


def uv_words(index: float) -> str:
    """Return the exposure category of a UV index, which is told in whole numbers."""
    return UV_WORDS[bisect_right(UV_FROM, round(index)) - 1]


def sky_of(oktas: int) -> SkyWord:
    """Return the sky to plan for when so many eighths are covered.

    Which cover goes with which curve of the light model is common practice, no source:
    scattered and broken cloud both hide the sun now and then.
    """
    if oktas <= FEW_OKTAS:
        return SkyWord.CLEAR
    return SkyWord.OVERCAST if oktas >= ALL_OKTAS else SkyWord.BROKEN
