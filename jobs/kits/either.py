"""One of several: a different thing for each position that any of some things fills."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TypeVar

T = TypeVar("T", bound=Hashable)


def one_for_each(positions: Sequence[Sequence[T]]) -> list[T | None]:
    """Choose a different thing for each position, of what would fill it, in order.

    The first that is left is taken; where none is, an earlier position goes over to
    another of its own if that helps. None stands where nothing is to be had.
    """
    chosen: dict[T, int] = {}
    for number in range(len(positions)):
        _fill(number, positions, chosen, set())
    holds = {number: thing for thing, number in chosen.items()}
    return [holds.get(number) for number in range(len(positions))]


def _fill(
    number: int, positions: Sequence[Sequence[T]], chosen: dict[T, int], tried: set[T]
) -> bool:
    for thing in positions[number]:
        if thing not in chosen:
            chosen[thing] = number
            return True
    for thing in positions[number]:
        if thing not in tried:
            tried.add(thing)
            if _fill(chosen[thing], positions, chosen, tried):
                chosen[thing] = number
                return True
    return False
