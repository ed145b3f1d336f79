"""The parts of the studio's settings; some of them are asked on the first day.

An app registers its own in `sections.py`, found when the site starts, so that the
pages of the first day and of Settings never learn who asks what.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from studio.forms import StudioForm
from studio.people.models import Person
from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One form of the settings, and how its answers are kept.

    `told` says in a few words what was answered, nothing while it waits. `blame`
    names the field beside which a refusal of `save` stands.
    """

    slug: str
    name: str
    hint: str
    order: int
    make_form: Callable[[Mapping[str, Any] | None, StudioProfile], StudioForm]
    save: Callable[[Any, Person, datetime], None]
    told: Callable[[StudioProfile], str]
    blame: str | None = None
    is_first: bool = False
    is_kept: bool = True

    @property
    def inside(self) -> str:
        """The name as it stands inside a sentence."""
        return f"{self.name[0].lower()}{self.name[1:]}"


_sections: Final[dict[str, Section]] = {}


def add_section(section: Section) -> Section:
    """Register a section; one of the same slug takes the place of an earlier one."""
    _sections[section.slug] = section
    return section


def first_sections() -> list[Section]:
    """Return what is asked on the first day, in order."""
    return [section for section in _ordered() if section.is_first]


def kept_sections() -> list[Section]:
    """Return what Settings shows, in order."""
    return [section for section in _ordered() if section.is_kept]


def _ordered() -> list[Section]:
    return sorted(_sections.values(), key=lambda section: section.order)
