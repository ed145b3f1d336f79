"""Batteries and cards: how many of each the frames of a plan ask for.

Figures of common practice, no source, stand beside each name: they are a start, and
an item's own figures go before them.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final

FRAMES_PER_BATTERY: Final = 500  # common practice; CIPA DC-002 ratings vary
MEGABYTES_PER_FRAME: Final = 40  # common practice: 30 to 60 for raw files
CARD_MEGABYTES: Final = 64_000
FULL_POPS_PER_SET: Final = 150  # common practice: four AA cells in a hand flash
RESERVE: Final = 1.3  # common practice: a third more than expected
MILD_C, COLD_C, FROST_C = 20.0, 0.0, -15.0
LEFT_AT_COLD, LEFT_AT_FROST = 0.75, 0.5
"""What a cold battery still gives, common practice: three quarters at freezing point,
half at -15 °C; straight in between."""


@dataclass(frozen=True, slots=True)
class Count:
    """How many to take, a spare with them, and the working in words."""

    number: int
    working: str


def share_left(temperature_c: float | None) -> float:
    """Return how much of its charge a battery gives at an air temperature."""
    if temperature_c is None or temperature_c >= MILD_C:
        return 1.0
    if temperature_c >= COLD_C:
        return _between(temperature_c, COLD_C, MILD_C, LEFT_AT_COLD, 1.0)
    if temperature_c > FROST_C:
        return _between(temperature_c, FROST_C, COLD_C, LEFT_AT_FROST, LEFT_AT_COLD)
    return LEFT_AT_FROST


def camera_batteries(
    frames: int, *, per_battery: int | None, temperature_c: float | None
) -> Count:
    """Return the batteries for so many frames, with a reserve and a spare."""
    each = per_battery or FRAMES_PER_BATTERY
    left = share_left(temperature_c)
    number = max(ceil(frames * RESERVE / (each * left)), 1) + 1
    cold = _cold_words(temperature_c)
    return Count(number, f"{frames} frames at about {each} each{cold}, and a spare")


def cards(frames: int, *, megabytes: int | None, copies: int = 1) -> Count:
    """Return the cards for so many frames, with a reserve and a spare.

    `copies` 2: the camera writes each frame to two cards at once.
    """
    each = megabytes or MEGABYTES_PER_FRAME
    number = max(ceil(frames * RESERVE * each / CARD_MEGABYTES), 1) * copies + 1
    return Count(
        number, f"{frames} frames at about {each} MB on 64 GB cards, and a spare"
    )


def flash_sets(pops: int, *, mean_power: float, temperature_c: float | None) -> Count:
    """Return the sets of cells for so many flashes at a mean share of full power."""
    full = pops * mean_power
    left = share_left(temperature_c)
    number = max(ceil(full * RESERVE / (FULL_POPS_PER_SET * left)), 1) + 1
    return Count(
        number,
        f"{pops} flashes at {mean_power:.0%} of full power are {full:.0f} full ones; "
        f"about {FULL_POPS_PER_SET} a set{_cold_words(temperature_c)}, and a spare",
    )


def _cold_words(temperature_c: float | None) -> str:
    left = share_left(temperature_c)
    if left == 1.0 or temperature_c is None:
        return ""
    return f", {left:.0%} of that at {temperature_c:.0f} °C"


def _between(at: float, low: float, high: float, first: float, last: float) -> float:
    return first + (last - first) * (at - low) / (high - low)
