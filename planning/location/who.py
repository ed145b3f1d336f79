"""Who is photographed while a session runs: groups first, then one by one."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.attending.company import Comer, Company, Group
from jobs.attending.queries import company_of, groups_of
from jobs.bookings.models import Booking


@dataclass(frozen=True, slots=True, kw_only=True)
class LocationGroup:
    """A group to photograph, and whether it is."""

    key: str
    name: str
    members: str
    not_shown: str
    is_done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LocationSitter:
    """Somebody to photograph; `group_keys` are those that photograph them too."""

    key: str
    name: str
    notes: str
    group_keys: str
    done_in: str
    is_done: bool

    @property
    def is_photographed(self) -> bool:
        """Whether they are, alone or in a group."""
        return self.is_done or bool(self.done_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoIsLeft:
    """The groups and people of a session, and how many are done."""

    groups: tuple[LocationGroup, ...]
    sitters: tuple[LocationSitter, ...]

    @property
    def groups_done(self) -> int:
        """How many groups are photographed."""
        return sum(one.is_done for one in self.groups)

    @property
    def sitters_left(self) -> int:
        """How many people are in no picture yet."""
        return sum(not one.is_photographed for one in self.sitters)


def who_is_left(booking: Booking, done: set[str]) -> WhoIsLeft:
    """Return the groups and people of a session; `done` are the keys of its ticks."""
    company = company_of(booking)
    groups = groups_of(booking, company)
    return WhoIsLeft(
        groups=tuple(_group(one, done) for one in groups),
        sitters=_sitters(company, groups, done),
    )


def _sitters(
    company: Company, groups: tuple[Group, ...], done: set[str]
) -> tuple[LocationSitter, ...]:
    return tuple(
        _sitter(one, groups, done) for one in company.people if not one.is_client
    )


def _key(group: Group) -> str:
    return f"group:{group.pk}"


def _group(group: Group, done: set[str]) -> LocationGroup:
    return LocationGroup(
        key=_key(group),
        name=group.name,
        members=group.member_names,
        not_shown=", ".join(group.not_shown),
        is_done=_key(group) in done,
    )


def _sitter(one: Comer, groups: tuple[Group, ...], done: set[str]) -> LocationSitter:
    within = [group for group in groups if one in group.members]
    shot = [group.name for group in within if _key(group) in done]
    return LocationSitter(
        key=f"sitter:{one.pk}",
        name=one.name,
        notes=", ".join(filter(None, (one.age_words, *one.notes))),
        group_keys=" ".join(_key(group) for group in within),
        done_in=", ".join(shot),
        is_done=f"sitter:{one.pk}" in done,
    )
