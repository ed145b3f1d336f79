"""The library and earlier set-ups, for pages: each worked out for a session."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from django.db.models import QuerySet

from jobs.bookings.models import Booking
from jobs.searching import holding_words
from planning.patterns.frozen import Thawed, freeze, sunset_of, thaw
from planning.patterns.models import Anchor, SavedSetUp
from planning.shoots.choices import SkyWord
from planning.shoots.daylight import Daylight, daylight, turn_deg
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.planned import PlannedShoot
from planning.shoots.queries import rows_of, where_of, work_out

MOST_EARLIER = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A set-up as it would stand in a plan; nothing is written."""

    thawed: Thawed
    shoot: PlannedShoot

    @property
    def row(self) -> SetUp:
        """The set-up, not saved."""
        return self.thawed.row


def library(words: str = "") -> QuerySet[SavedSetUp]:
    """Return the kept set-ups whose name or origin holds the words."""
    return SavedSetUp.objects.filter(holding_words(words, "name", "kept_from"))


def earlier_set_ups(booking: Booking, words: str = "") -> list[SetUp]:
    """Return set-ups of other sessions that hold the words, the latest first."""
    rows = SetUp.objects.exclude(plan__booking=booking).filter(
        holding_words(
            words,
            "name",
            "note",
            "plan__booking__job__title",
            "plan__booking__job__number",
            "plan__booking__job__client__name",
            "plan__booking__place__name",
        )
    )
    related = ("plan__booking__job__client", "plan__booking__place")
    return list(rows.select_related(*related).order_by("-starts_at")[:MOST_EARLIER])


def light_of(booking: Booking) -> Daylight:
    """Return the light of a booking's place through its session."""
    return daylight(where_of(booking.place), booking.starts_at, booking.ends_at)


def start_in(saved: SavedSetUp, booking: Booking) -> datetime:
    """Return when a kept set-up starts in a session: by its sunset or its start."""
    offset = timedelta(minutes=saved.offset_minutes)
    sunset = sunset_of(light_of(booking)) if saved.anchor == Anchor.SUNSET else None
    return (sunset or booking.starts_at) + offset


def next_start(booking: Booking) -> datetime:
    """Return when a set-up that is added to a plan would start: after the last one."""
    last = SetUp.objects.filter(plan__booking=booking).order_by("-position").first()
    return last.ends_at if last else booking.starts_at


def try_saved(
    saved: SavedSetUp, booking: Booking, *, starts_at: datetime, keep_sun: bool
) -> Tried:
    """Return a kept set-up as it would stand in a session's plan."""
    thawed = thaw(saved.details, starts_at=starts_at, booking=booking)
    return _tried(thawed, booking, saved.sun_turn_deg if keep_sun else None)


def try_earlier(
    source: SetUp, booking: Booking, *, starts_at: datetime, keep_sun: bool
) -> Tried:
    """Return a set-up of an earlier session as it would stand in this one's plan."""
    thawed = thaw(freeze(source), starts_at=starts_at, booking=booking)
    return _tried(thawed, booking, sun_turn_of(source) if keep_sun else None)


def sun_turn_of(set_up: SetUp) -> float | None:
    """Return where the sun stands from the camera at its middle; None if it is down."""
    sun = light_of(set_up.plan.booking).moment(_middle(set_up))
    if not sun.is_up:
        return None
    return turn_deg(sun.azimuth_deg, set_up.camera_heading_deg)


def _tried(thawed: Thawed, booking: Booking, sun_turn_deg: float | None) -> Tried:
    row = thawed.row
    if sun_turn_deg is not None:
        sun = light_of(booking).moment(_middle(row))
        heading = round(sun.azimuth_deg - sun_turn_deg) % 360.0
        turned = heading - row.camera_heading_deg
        row.camera_heading_deg = heading
        if row.facing_deg is not None:
            row.facing_deg = (row.facing_deg + turned) % 360.0
    plan = ShootPlan.objects.filter(booking=booking).first()
    rows = [*(rows_of(plan) if plan else []), row]
    sky = SkyWord(plan.sky) if plan else SkyWord.CLEAR
    shoot = work_out(booking, rows, sky)
    return Tried(thawed=replace(thawed, row=row), shoot=shoot)


def _middle(set_up: SetUp) -> datetime:
    return set_up.starts_at + (set_up.ends_at - set_up.starts_at) / 2
