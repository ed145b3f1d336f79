"""A set-up's details as plain values, and back into a set-up for another session."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import models

from jobs.bookings.models import Booking
from planning.shoots.daylight import Daylight
from planning.shoots.models import SetUp

NOT_KEPT: Final = {"id", "plan", "position", "starts_at"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Thawed:
    """A set-up for a session, not saved, and what the studio no longer has for it."""

    row: SetUp
    missing: tuple[str, ...]


def freeze(set_up: SetUp) -> dict[str, Any]:
    """Return a set-up's details as JSON takes them.

    Moments are minutes after the start; kit is its number and its name, so that the
    name can be told when the item is gone.
    """
    return {
        field.name: _frozen(field, set_up)
        for field in SetUp._meta.concrete_fields
        if field.name not in NOT_KEPT
    }


def _frozen(field: models.Field[Any, Any], set_up: SetUp) -> Any:
    value = getattr(set_up, field.name)
    if isinstance(field, models.ForeignKey):
        return [value.pk, str(value)] if value else None
    if isinstance(value, datetime):
        return round((value - set_up.starts_at).total_seconds() / 60)
    return value


def thaw(
    details: Mapping[str, Any], *, starts_at: datetime, booking: Booking
) -> Thawed:
    """Return a set-up from its details, to start at a moment of a booking.

    What the studio retired, or what belongs to another place, is left out and named;
    fields that set-ups have got since keep their usual values.
    """
    row, missing = SetUp(starts_at=starts_at), []
    for field in SetUp._meta.concrete_fields:
        if field.name in NOT_KEPT or field.name not in details:
            continue
        value = details[field.name]
        if isinstance(field, models.ForeignKey) and value:
            found = _still_there(field, value[0], booking)
            if found is None:
                missing.append(str(value[1]))
            setattr(row, field.name, found)
        elif isinstance(field, models.DateTimeField) and value is not None:
            setattr(row, field.name, starts_at + timedelta(minutes=value))
        else:
            setattr(row, field.name, value)
    return Thawed(row=row, missing=tuple(missing))


def _still_there(
    field: models.ForeignKey[Any, Any], pk: int, booking: Booking
) -> models.Model | None:
    related = field.related_model
    found = related._default_manager.filter(pk=pk).first()
    elsewhere = getattr(found, "place_id", booking.place_id) != booking.place_id
    return None if elsewhere or getattr(found, "retired", False) else found


def details_of(row: SetUp) -> dict[str, Any]:
    """Return an unsaved set-up's fields as the operation that adds it takes them."""
    left_out = NOT_KEPT - {"starts_at"}
    fields = (one for one in SetUp._meta.concrete_fields if one.name not in left_out)
    return {field.name: getattr(row, field.name) for field in fields}


def sunset_of(light: Daylight) -> datetime | None:
    """Return the sunset of the day of a session, to the minute; None if there is none.

    Whole minutes keep a set-up's start on the minute.
    """
    sunset = light.day.sunset
    return sunset.replace(second=0, microsecond=0) if sunset else None
