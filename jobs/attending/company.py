"""Who is coming to a session, as plans, cautions and papers look at them."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.attending.models import BABY_MONTHS, CHILD_MONTHS
from jobs.attending.naps import Nap


@dataclass(frozen=True, slots=True, kw_only=True)
class Comer:
    """One who comes, with what they told of themselves."""

    pk: int
    name: str
    is_client: bool = False
    household: str = ""
    age_months: int | None = None
    age_words: str = ""
    naps: tuple[Nap, ...] = ()
    wears_glasses: bool = False
    uses_wheelchair: bool = False
    flash_sensitive: bool = False
    not_shown: bool = False

    @property
    def is_child(self) -> bool:
        """Whether they are known to be under age."""
        return self.age_months is not None and self.age_months < CHILD_MONTHS

    @property
    def is_baby(self) -> bool:
        """Whether they are known to be in their first year."""
        return self.age_months is not None and self.age_months < BABY_MONTHS

    @property
    def notes(self) -> tuple[str, ...]:
        """What whoever works with them on the day has to know, in a word or two."""
        said = (
            (self.not_shown, "not to be shown"),
            (self.wears_glasses, "glasses"),
            (self.uses_wheelchair, "wheelchair"),
        )
        return tuple(words for is_so, words in said if is_so)


@dataclass(frozen=True, slots=True, kw_only=True)
class Company:
    """All who come to a session, and what was told of it as a whole."""

    people: tuple[Comer, ...] = ()
    dog_comes: bool = False
    guardian_name: str = ""

    @property
    def children(self) -> tuple[Comer, ...]:
        """Those who are known to be under age."""
        return tuple(one for one in self.people if one.is_child)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A group to photograph: its name, who is in it, and its row."""

    pk: int
    name: str
    members: tuple[Comer, ...]

    @property
    def member_names(self) -> str:
        """Who is in it, one after the other; nothing where its name says it all."""
        if len(self.members) == 1 and self.members[0].name in self.name:
            return ""
        return ", ".join(one.name for one in self.members)

    @property
    def not_shown(self) -> tuple[str, ...]:
        """Who in it must not be shown in pictures that are published."""
        return tuple(one.name for one in self.members if one.not_shown)
