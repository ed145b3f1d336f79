"""What a printed release says: plain values, ready for paper."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedRelease:
    """A release as it is printed."""

    studio_name: str
    studio_lines: tuple[str, ...]
    number: int
    sitter: str
    signer: str
    is_child: bool
    made: str
    words: str
    signed: str
    caution: str
