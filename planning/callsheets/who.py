"""What the crew's sheet says of who is coming: groups, and what to heed of whom."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jobs.attending.company import Comer, Group
from jobs.attending.queries import company_of, groups_of
from jobs.bookings.models import Booking
from planning.callsheets.printed import Pair

FEW = 3
HEEDED: tuple[tuple[str, Callable[[Comer], bool]], ...] = (
    ("Not to be shown in published pictures", lambda one: one.not_shown),
    ("Glasses", lambda one: one.wears_glasses),
    ("Wheelchair", lambda one: one.uses_wheelchair),
)
"""What is told of whom. Ages, naps and flash reach the crew by cautions alone."""


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
    """Return a group's name, with who is in it where they are few."""
    if not 0 < len(group.members) <= FEW or not group.member_names:
        return group.name
    return f"{group.name} ({group.member_names})"
