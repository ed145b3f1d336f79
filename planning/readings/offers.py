"""What the latest frame offers to do for the set-ups still to come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from planning.light.illuminance import Sky
from planning.location.models import SessionTick
from planning.readings.models import Reading
from planning.shifts.models import LightKind
from planning.shifts.operations import Finding
from planning.shifts.queries import AS_PLANNED_STOPS, KINDS, size_words, stops_words
from planning.shoots.choices import SkyWord
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.shifted import set_ups_words
from studio.timespan import clock_words

LATE = timedelta(hours=1)
"""A session may run so late; common practice, no source."""
CLOSED = {Sky.OVERCAST, Sky.HEAVY_OVERCAST}
SKIES = {word.label: word for word in SkyWord}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftOffer:
    """Shift what is still to come: by how much, which set-ups, and what to doubt."""

    reading_id: int
    found: str
    verb: str
    set_ups: str
    doubt: str
    finding: Finding


def offer_of(shoot: PlannedShoot, at: datetime) -> ShiftOffer | None:
    """Return what the frame kept last of a session offers, if it offers anything.

    Nothing while it is as planned, was taken under another sky or by flash, is
    accepted already, is older than what was accepted, or leaves no set-up of its light
    to come.
    """
    frames = Reading.objects.filter(
        booking_id=shoot.booking_id, planned_exposure_value__isnull=False
    )
    latest = frames.order_by("-pk").first()
    if latest is None or latest.sky != shoot.sky_words:
        return None
    return _offer(shoot, latest, at)


def _offer(shoot: PlannedShoot, frame: Reading, at: datetime) -> ShiftOffer | None:
    change, own = frame.change_stops, _own(shoot, frame)
    if change is None or own is None or abs(change) < AS_PLANNED_STOPS:
        return None
    kind = KINDS.get(own.facts.light)
    if kind is None or _is_answered(shoot, frame, kind):
        return None
    coming = _coming(shoot, own, max(frame.read_at, at))
    if not coming or at > shoot.ends_at + LATE:
        return None
    clock = clock_words(frame.read_at.astimezone(shoot.light.where.zone))
    return ShiftOffer(
        reading_id=frame.pk,
        found=f"The frame at {clock} was {stops_words(change)}.",
        verb=f"Shift the set-ups still to come by {size_words(change)}",
        set_ups=f"It moves {set_ups_words([one.facts.number for one in coming])}, "
        f"{kind.label} under a sky that is {shoot.sky_words}.",
        doubt=_doubt(own, coming, shoot.sky),
        finding=_finding(frame, kind),
    )


def _coming(
    shoot: PlannedShoot, own: PlannedSetUp, after: datetime
) -> list[PlannedSetUp]:
    """Return the set-ups of a frame's light that are neither done nor passed by."""
    ticks = SessionTick.objects.filter(booking_id=shoot.booking_id, is_done=True)
    done = set(ticks.values_list("key", flat=True))
    start = own.facts.starts_at
    return [
        one
        for one in shoot.set_ups
        if KINDS.get(one.facts.light) == KINDS[own.facts.light]
        and f"set-up:{one.facts.pk}" not in done
        and (one.facts.ends_at > after or one.facts.starts_at >= start)
    ]


def _is_answered(shoot: PlannedShoot, frame: Reading, kind: LightKind) -> bool:
    """Say whether the plan stands on this frame already, or on a later one."""
    return any(
        one.reading_id == frame.pk
        or (one.kind == kind and one.frame_at > frame.read_at)
        for one in shoot.shifts
    )


def _own(shoot: PlannedShoot, frame: Reading) -> PlannedSetUp | None:
    own = (one for one in shoot.set_ups if one.facts.pk == frame.set_up_id)
    return next(own, None)


def _doubt(own: PlannedSetUp, coming: list[PlannedSetUp], sky: Sky) -> str:
    """Return for which set-ups a frame says less: sun says little of shade."""
    other = [one.facts.number for one in coming if one.in_sun != own.in_sun]
    if not other or sky in CLOSED:
        return ""
    taken, stand = ("sun", "shade") if own.in_sun else ("shade", "sun")
    verb = "stands" if len(other) == 1 else "stand"
    return (
        f"It was taken in {taken} and {set_ups_words(other)} {verb} in {stand}: "
        "take a frame there too."
    )


def _finding(frame: Reading, kind: LightKind) -> Finding:
    return Finding(
        reading_id=frame.pk,
        set_up_id=frame.set_up_id,
        kind=kind,
        sky=SKIES[frame.sky],
        stops=frame.model_change_stops or 0.0,
        frame_at=frame.read_at,
    )
