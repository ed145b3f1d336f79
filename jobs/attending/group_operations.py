"""Keeping the list of groups to photograph."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Final

from django.db import transaction
from django.db.models import Max

from jobs.attending.models import GroupShot
from jobs.attending.queries import WHO_COMES, company_of
from jobs.attending.suggesting import suggest_groups
from jobs.bookings.models import Booking
from jobs.clients.models import ClientKind
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

MOST_GROUPS: Final = 60


class TooManyGroupsError(DomainError):
    """A session has as many groups as can be kept apart on a phone."""


@transaction.atomic
def keep_group(
    *,
    booking: Booking,
    group: GroupShot | None,
    name: str,
    member_ids: Iterable[int],
    by: Person,
    at: datetime,
) -> GroupShot:
    """Add a group at the end, or change one. Raises TooManyGroupsError."""
    _lock(booking)
    if group is None:
        group = _at_end(booking, name)
    group.name = name
    group.save()
    coming = booking.attendees.filter(part__in=WHO_COMES, pk__in=list(member_ids))
    group.members.set(coming)
    record(group, "kept", by=by, at=at)
    return group


@transaction.atomic
def add_suggested(*, booking: Booking, by: Person, at: datetime) -> int:
    """Add the groups that who is coming suggests; return how many were new.

    A firm's own contact is not photographed unless somebody says so.
    """
    _lock(booking)
    is_firm = booking.job.client.kind == ClientKind.ORGANISATION
    people = company_of(booking).people
    there = {name.casefold() for name in _names(booking)}
    wanted = [
        one
        for one in suggest_groups([p for p in people if not (is_firm and p.is_client)])
        if one.name.casefold() not in there
    ]
    for one in wanted:
        row = _at_end(booking, one.name)
        row.save()
        row.members.set([member.pk for member in one.members])
    if wanted:
        data = {"groups": len(wanted)}
        record(booking, "groups suggested", by=by, at=at, data=data)
    return len(wanted)


@transaction.atomic
def move_group(*, group: GroupShot, by_one: int, by: Person, at: datetime) -> None:
    """Move a group so many places down the list; up where it is below 0."""
    _lock(group.booking)
    rows = list(GroupShot.objects.filter(booking_id=group.booking_id))
    place = rows.index(group)
    other = min(max(place + by_one, 0), len(rows) - 1)
    rows.insert(other, rows.pop(place))
    for position, row in enumerate(rows, start=1):
        row.position = position
    GroupShot.objects.bulk_update(rows, ["position"])
    record(group, "moved", by=by, at=at)


@transaction.atomic
def remove_group(*, group: GroupShot, by: Person, at: datetime) -> None:
    """Take a group off the list."""
    _lock(group.booking)
    record(group, "removed", by=by, at=at)
    group.delete()


def _at_end(booking: Booking, name: str) -> GroupShot:
    groups = GroupShot.objects.filter(booking=booking)
    if groups.count() >= MOST_GROUPS:
        raise TooManyGroupsError(f"A list of groups has {MOST_GROUPS} at most.")
    last = groups.aggregate(last=Max("position"))["last"] or 0
    return GroupShot(booking=booking, name=name[:120], position=last + 1)


def _names(booking: Booking) -> list[str]:
    return list(
        GroupShot.objects.filter(booking=booking).values_list("name", flat=True)
    )


def _lock(booking: Booking) -> None:
    Booking.objects.select_for_update(of=("self",)).get(pk=booking.pk)
