"""Which open invoices a sum of money is most likely for; a person has the last word.

Plain arithmetic in integer minor units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenSum:
    """What is open on one invoice, and the marks that name it on a bank line."""

    pk: int
    marks: tuple[str, ...]
    due_on: date
    minor: int


def proposed(
    minor: int, invoices: Sequence[OpenSum], *, reference: str = ""
) -> dict[int, int]:
    """Return how much of a sum goes to which invoice.

    Invoices that the reference names come first, then one that is open at exactly the
    sum, then the oldest due. What is left over stays on account.
    """
    by_age = sorted(invoices, key=lambda one: (one.due_on, one.pk))
    said = _plain(reference)
    named = [one for one in by_age if any(_is_in(mark, said) for mark in one.marks)]
    exact = [one for one in by_age if one.minor == minor][:1]
    first = named or exact
    shares: dict[int, int] = {}
    for one in [*first, *(other for other in by_age if other not in first)]:
        share = min(one.minor, minor)
        if share > 0:
            shares[one.pk] = share
            minor -= share
    return shares


def _is_in(mark: str, said: str) -> bool:
    return bool(_plain(mark).strip()) and f" {_plain(mark).strip()} " in f" {said} "


def _plain(words: str) -> str:
    kept = "".join(sign if sign.isalnum() or sign == "-" else " " for sign in words)
    return " ".join(kept.upper().split())
