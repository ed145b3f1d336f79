"""Everything that can be done to a light plan."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import F, Max

from jobs.bookings.models import Booking
from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

COPIED_NOT = {"id", "plan", "position"}


class StalePlanError(DomainError):
    """A light plan was changed by somebody else meanwhile."""


@transaction.atomic
def start_plan(*, booking: Booking, by: Person, at: datetime) -> ShootPlan:
    """Give a booking its light plan; one that has one keeps it."""
    plan, made = ShootPlan.objects.get_or_create(booking=booking)
    if made:
        record(plan, "started", by=by, at=at)
    return plan


@transaction.atomic
def choose_sky(*, plan_id: int, sky: SkyWord, by: Person, at: datetime) -> ShootPlan:
    """Plan for another sky."""
    plan = _locked(plan_id)
    plan.sky = sky
    return _changed(plan, "sky chosen", by=by, at=at)


@transaction.atomic
def add_set_up(
    *, plan_id: int, details: Mapping[str, Any], by: Person, at: datetime
) -> SetUp:
    """Add a set-up at the end of the order."""
    plan = _locked(plan_id)
    last = plan.set_ups.aggregate(last=Max("position"))["last"] or 0
    set_up = SetUp.objects.create(plan=plan, position=last + 1, **details)
    _changed(plan, "set-up added", by=by, at=at)
    return set_up


@transaction.atomic
def change_set_up(
    *,
    set_up_id: int,
    details: Mapping[str, Any],
    by: Person,
    at: datetime,
    version: int | None = None,
) -> SetUp:
    """Change a set-up. Raises StalePlanError if the plan moved on meanwhile."""
    set_up = SetUp.objects.select_related("plan").get(pk=set_up_id)
    plan = _locked(set_up.plan_id)
    if version is not None and version != plan.version:
        raise StalePlanError("Somebody else changed this plan meanwhile.")
    for name, value in details.items():
        setattr(set_up, name, value)
    set_up.save()
    _changed(plan, "set-up changed", by=by, at=at)
    return set_up


@transaction.atomic
def change_set_ups(
    *,
    plan_id: int,
    changes: Mapping[int, Mapping[str, Any]],
    by: Person,
    at: datetime,
    version: int | None = None,
) -> ShootPlan:
    """Change several set-ups of a plan at once, each its own fields.

    Raises StalePlanError if the plan moved on meanwhile.
    """
    plan = _locked(plan_id)
    if version is not None and version != plan.version:
        raise StalePlanError("Somebody else changed this plan meanwhile.")
    for set_up in plan.set_ups.filter(pk__in=changes):
        for name, value in changes[set_up.pk].items():
            setattr(set_up, name, value)
        set_up.save()
    return _changed(plan, "set-ups changed", by=by, at=at)


@transaction.atomic
def shift_set_ups(
    *, plan_id: int, shift: timedelta, by: Person, at: datetime
) -> ShootPlan:
    """Let every set-up start so much later, as the session does."""
    plan = _locked(plan_id)
    plan.set_ups.update(starts_at=F("starts_at") + shift)
    return _changed(plan, "set-ups shifted", by=by, at=at)


@transaction.atomic
def remove_set_up(*, set_up_id: int, by: Person, at: datetime) -> ShootPlan:
    """Take a set-up out of the plan; the others close up."""
    set_up = SetUp.objects.get(pk=set_up_id)
    plan = _locked(set_up.plan_id)
    set_up.delete()
    plan.set_ups.filter(position__gt=set_up.position).update(position=F("position") - 1)
    return _changed(plan, "set-up removed", by=by, at=at)


@transaction.atomic
def move_set_up(*, set_up_id: int, places: int, by: Person, at: datetime) -> ShootPlan:
    """Move a set-up so many places down the order; below zero, up."""
    set_up = SetUp.objects.get(pk=set_up_id)
    plan = _locked(set_up.plan_id)
    order = list(plan.set_ups.order_by("position", "pk"))
    was = next(index for index, one in enumerate(order) if one.pk == set_up.pk)
    to = min(max(was + places, 0), len(order) - 1)
    order.insert(to, order.pop(was))
    for position, one in enumerate(order, start=1):
        SetUp.objects.filter(pk=one.pk).update(position=position)
    return _changed(plan, "set-up moved", by=by, at=at)


@transaction.atomic
def copy_set_up(
    *, set_up_id: int, plan_id: int, starts_at: datetime, by: Person, at: datetime
) -> SetUp:
    """Copy a set-up, from this job or an earlier one, to a new start."""
    source = SetUp.objects.get(pk=set_up_id)
    details = {
        field.name: getattr(source, field.name)
        for field in SetUp._meta.concrete_fields
        if field.name not in COPIED_NOT
    }
    shift = starts_at - source.starts_at
    for name in ("starts_at", "shaded_from_at", "shaded_until_at"):
        if details[name] is not None:
            details[name] += shift
    return add_set_up(plan_id=plan_id, details=details, by=by, at=at)


def _locked(plan_id: int) -> ShootPlan:
    return ShootPlan.objects.select_for_update().get(pk=plan_id)


def _changed(plan: ShootPlan, verb: str, *, by: Person, at: datetime) -> ShootPlan:
    plan.version += 1
    plan.save()
    record(plan, verb, by=by, at=at)
    return plan
