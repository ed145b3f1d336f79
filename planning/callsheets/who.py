"""What the crew's sheet says of who is coming: groups, and what to heed of whom."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jobs.attending.company import Comer, Group
from jobs.attending.queries import company_of, groups_of
from jobs.bookings.models import Booking
from planning.callsheets.printed import Pair

HEEDED: tuple[tuple[str, Callable[[Comer], bool]], ...] = (
    ("Not to be shown in published pictures", lambda one: one.not_shown),
    ("Wears glasses", lambda one: one.wears_glasses),
    ("Uses a wheelchair", lambda one: one.uses_wheelchair),
)
"""What is told of whom. Ages, naps and flash stay off the paper: fewer eyes see it."""


def who_lines(booking: Booking) -> tuple[Pair, ...]:
    """Return the groups in their order, and who needs what; nothing where none is."""
    return tuple(_lines(booking))


def _lines(booking: Booking) -> Iterator[Pair]:
    company = company_of(booking)
    groups = groups_of(booking, company)
    if groups:
        numbered = (f"{n} {_name(one)}" for n, one in enumerate(groups, start=1))
        yield "Groups", "; ".join(numbered)
    for label, is_told in HEEDED:
        if names := [one.name for one in company.people if is_told(one)]:
            yield label, ", ".join(names)
    if company.guardian_name and company.children:
        yield "Looks after the children", company.guardian_name


def _name(group: Group) -> str:
    """Return a group's name; where it holds one person, that person's is in it."""
    names = [one.name for one in group.members]
    if len(names) < 2 or len(names) > 4:
        return group.name
    return f"{group.name} ({', '.join(names)})"
