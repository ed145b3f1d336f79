"""Filling a letter's gaps: `{{day}}` and its like, from a fixed list and nothing else.

No template language: what somebody types can name a fact, and do nothing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

_GAP: Final = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")


def unknown_gaps(words: str, known: Mapping[str, object]) -> list[str]:
    """Return the names between double braces that no fact has, in their order."""
    named = dict.fromkeys(_GAP.findall(words))
    return [name for name in named if name not in known]


def fill(words: str, facts: Mapping[str, str]) -> str:
    """Return the words with their gaps filled, once: a fact may hold braces itself."""
    return _GAP.sub(lambda gap: facts.get(gap[1], gap[0]), words)
