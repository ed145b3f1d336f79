"""Which kinds of list can be brought in: each app registers its own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from django.db.models import Model

from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One thing that a row may say, which goes into one field of the kind's form.

    `words` are looked for in the names of a file's columns. `choices` maps what people
    write, in small letters, to what the field takes.
    """

    name: str
    label: str
    words: tuple[str, ...]
    example: str
    required: bool = False
    is_day: bool = False
    choices: Mapping[str, str] = field(default_factory=dict)
    default: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of list: its columns, the form that reads a row, and what is done.

    `form` is built from the cells by name. `known` returns what is in the book already,
    and `add` the new row; both take the form when it is valid, and `add` may refuse
    with a DomainError.
    """

    slug: str
    name: str
    one: str
    hint: str
    columns: tuple[Column, ...]
    form: Callable[[dict[str, str]], Any]
    known: Callable[[Any], Model | None]
    add: Callable[[Any, Person, datetime], Model]
    page: str


YES_OR_NO: Final = {
    **dict.fromkeys(("yes", "y", "true", "1", "x", "on"), "on"),
    **dict.fromkeys(("no", "n", "false", "0", "-", "off"), ""),
}
_kinds: Final[dict[str, Kind]] = {}


def add_kind(kind: Kind) -> None:
    """Let lists of a kind be brought in."""
    _kinds[kind.slug] = kind


def kinds() -> list[Kind]:
    """Return every kind, as the apps registered them."""
    return list(_kinds.values())


def kind_of(slug: str) -> Kind:
    """Return a kind by its name in addresses. Raises KeyError."""
    return _kinds[slug]
