"""One calendar as two libraries read it that have nothing to do with the writer's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import ics
import vobject


@dataclass(frozen=True)
class Meaning:
    """What a reader makes of one event."""

    uid: str
    starts_at: datetime
    ends_at: datetime
    title: str
    status: str
    sequence: int
    place: str
    words: str
    alarm: timedelta | None


def by_vobject(content: bytes) -> list[Meaning]:
    found = []
    for event in vobject.readOne(content.decode()).contents.get("vevent", []):
        has_alarm = "valarm" in event.contents
        found.append(
            Meaning(
                uid=event.uid.value,
                starts_at=event.dtstart.value.astimezone(UTC),
                ends_at=event.dtend.value.astimezone(UTC),
                title=event.summary.value,
                status=event.status.value,
                sequence=int(event.sequence.value),
                place=event.location.value if "location" in event.contents else "",
                words=event.description.value,
                alarm=event.valarm.trigger.value if has_alarm else None,
            )
        )
    return sorted(found, key=lambda one: one.uid)


def by_ics(content: bytes) -> list[Meaning]:
    found = []
    for event in ics.Calendar(content.decode()).events:
        (sequence,) = [line for line in event.extra if line.name == "SEQUENCE"]
        found.append(
            Meaning(
                uid=event.uid,
                starts_at=event.begin.datetime.astimezone(UTC),
                ends_at=event.end.datetime.astimezone(UTC),
                title=event.name,
                status=event.status,
                sequence=int(sequence.value),
                place=event.location or "",
                words=event.description,
                alarm=event.alarms[0].trigger if event.alarms else None,
            )
        )
    return sorted(found, key=lambda one: one.uid)


def meanings(content: bytes) -> list[Meaning]:
    """Return what the calendar means, if both readers make the same of it."""
    one, other = by_vobject(content), by_ics(content)
    assert one == other
    return one
