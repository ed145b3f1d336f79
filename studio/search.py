"""What the one search box finds: each app registers its own source."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that a search found."""

    kind: str
    title: str
    detail: str
    url: str


@dataclass(frozen=True, slots=True)
class Finds:
    """What a search shows; `is_cut` where there may be more than that."""

    rows: tuple[Found, ...] = ()
    is_cut: bool = False


MOST: Final = 10
"""How many of one source are shown."""
Source = Callable[[str], list[Found]]
_sources: Final[list[tuple[str, Source]]] = []


def searchable(*, action: str) -> Callable[[Source], Source]:
    """Register a source of finds, for people who may do `action`."""

    def register(source: Source) -> Source:
        _sources.append((action, source))
        return source

    return register


def find(words: str, *, person: Any) -> Finds:
    """Return what this person may see of what the words find."""
    found = [source(words) for action, source in _sources if person.may(action)]
    return Finds(
        rows=tuple(one for some in found for one in some),
        is_cut=any(len(some) >= MOST for some in found),
    )
