"""Everything that can be done to the rooms of a place and their windows."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import ProtectedError

from jobs.places.models import Place
from planning.sites.models import Room, Window
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


class WindowInUseError(DomainError):
    """A window lights a set-up, so it cannot go."""


@transaction.atomic
def keep_room(
    *,
    place: Place,
    room: Room | None,
    details: Mapping[str, Any],
    by: Person,
    at: datetime,
) -> Room:
    """Add a room to a place, or change one."""
    row = room or Room(place=place)
    for name, value in details.items():
        setattr(row, name, value)
    row.save()
    record(row, "room kept", by=by, at=at)
    return row


@transaction.atomic
def keep_window(
    *,
    room: Room,
    window: Window | None,
    details: Mapping[str, Any],
    by: Person,
    at: datetime,
) -> Window:
    """Add a window to a room, or change one."""
    row = window or Window(room=room)
    for name, value in details.items():
        setattr(row, name, value)
    row.save()
    record(row, "window kept", by=by, at=at)
    return row


@transaction.atomic
def remove_room(*, room_id: int, by: Person, at: datetime) -> Place:
    """Take a room and its windows out of a place. Raises WindowInUseError."""
    room = Room.objects.select_related("place").get(pk=room_id)
    place = room.place
    record(room, "room removed", by=by, at=at, data={"name": room.name})
    _delete(room, room.name)
    return place


@transaction.atomic
def remove_window(*, window_id: int, by: Person, at: datetime) -> Room:
    """Take a window out of its room. Raises WindowInUseError."""
    window = Window.objects.select_related("room").get(pk=window_id)
    room = window.room
    record(window, "window removed", by=by, at=at, data={"name": window.name})
    _delete(window, window.name)
    return room


def _delete(row: Room | Window, name: str) -> None:
    try:
        row.delete()
    except ProtectedError as refusal:
        raise WindowInUseError(
            f"“{name}” lights a set-up of a plan. Give it another window first."
        ) from refusal
