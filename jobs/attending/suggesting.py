"""Which groups to photograph, suggested from who is coming."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jobs.attending.company import Comer


@dataclass(frozen=True, slots=True)
class Suggested:
    """A group that could be photographed."""

    name: str
    members: tuple[Comer, ...]


def suggest_groups(people: Sequence[Comer]) -> Iterator[Suggested]:
    """Give everyone, each household, the children together, and each child alone.

    Many people first and single children last is common practice, no source: the large
    groups need everybody's patience. A group that another one equals is left out.
    """
    seen: set[frozenset[int]] = set()
    for one in _suggestions(people):
        who = frozenset(member.pk for member in one.members)
        if who not in seen:
            seen.add(who)
            yield one


def _suggestions(people: Sequence[Comer]) -> Iterator[Suggested]:
    if len(people) > 1:
        yield Suggested("Everyone", tuple(people))
    for name, members in _households(people):
        if len(members) > 1:
            yield Suggested(name, members)
    children = tuple(one for one in people if one.is_child)
    if len(children) > 1:
        yield Suggested("All the children", children)
    for child in children:
        yield Suggested(f"{child.name} alone", (child,))


def _households(people: Sequence[Comer]) -> Iterator[tuple[str, tuple[Comer, ...]]]:
    """Give each household by its name as first written, however others write it."""
    names: dict[str, str] = {}
    for one in people:
        if one.household:
            names.setdefault(one.household.casefold(), one.household)
    for key, name in names.items():
        yield name, tuple(one for one in people if one.household.casefold() == key)
