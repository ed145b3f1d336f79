"""The page of a running session: the set-up, how long the light lasts, who is left."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from jobs.bookings.models import Booking
from planning.location.minutes import Through, TimedSettings, settings_through, steps_of
from planning.location.models import SessionTick
from planning.location.sun import SunLeft, sun_left
from planning.location.who import WhoIsLeft, who_is_left
from planning.readings.offers import ShiftOffer, offer_of
from planning.readings.queries import NEAR
from planning.shoots.planned import Caution, PlannedShoot
from planning.shoots.queries import planned_shoot
from planning.shoots.shown import ShownSetUp, shown_set_up


@dataclass(frozen=True, slots=True, kw_only=True)
class LocationSetUp:
    """One set-up at arm's length."""

    shown: ShownSetUp
    f_number: str
    shutter: str
    iso: str
    sun: str
    shift: str
    shift_pk: int | None
    through: Through
    now: TimedSettings | None
    """What to dial in at this minute; None long before and after the session."""
    next_number: int
    """Which set-up a skip leads to; its own where it is the only one."""
    cautions: tuple[Caution, ...]
    is_done: bool
    is_current: bool

    @property
    def key(self) -> str:
        """What its tick is called."""
        return f"set-up:{self.shown.pk}"

    @property
    def big(self) -> TimedSettings | LocationSetUp:
        """What to show large: this minute's settings, else those to start with."""
        return self.now or self

    @property
    def planned(self) -> str:
        """The plan's own settings in one line, from the set-up's start to its end."""
        more = f" ({self.shown.range_words})" if self.shown.range_words else ""
        return f"{self.shown.settings} {self.iso}{more}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LocationPage:
    """A running session as the phone shows it."""

    now: datetime
    zone: str
    kept_until: datetime
    """Until then the phone may keep this page, to show it without the network."""
    shoot: PlannedShoot
    sun: SunLeft | None
    set_ups: tuple[LocationSetUp, ...]
    offer: ShiftOffer | None
    who: WhoIsLeft

    @property
    def current_pk(self) -> int | None:
        """The set-up that is shown first."""
        return next((one.shown.pk for one in self.set_ups if one.is_current), None)

    @property
    def done(self) -> int:
        """How many set-ups are done."""
        return sum(one.is_done for one in self.set_ups)


def location_page(
    booking: Booking, *, at: datetime, wanted: int | None = None
) -> LocationPage:
    """Return a session as it stands at a moment; `wanted` is a set-up's number."""
    shoot = planned_shoot(booking)
    done = set(
        SessionTick.objects.filter(booking=booking, is_done=True).values_list(
            "key", flat=True
        )
    )
    current = _current(shoot, done, at, wanted)
    return LocationPage(
        now=at,
        zone=booking.place.time_zone,
        kept_until=kept_until(booking),
        shoot=shoot,
        sun=sun_left(shoot, at),
        set_ups=_set_ups(shoot, done, current, at),
        offer=offer_of(shoot, at),
        who=who_is_left(booking, done),
    )


def kept_until(booking: Booking) -> datetime:
    """Return when a phone must have forgotten the page: frames count so long too."""
    return booking.ends_at + NEAR


def _current(
    shoot: PlannedShoot, done: set[str], at: datetime, wanted: int | None
) -> int:
    """Return the number to show: the wanted one, the next undone, the last."""
    numbers = [one.facts.number for one in shoot.set_ups]
    if wanted in numbers:
        return numbers[numbers.index(wanted)]
    left = [one.facts for one in shoot.set_ups if f"set-up:{one.facts.pk}" not in done]
    running = [facts for facts in left if facts.ends_at > at] or left
    if running:
        return running[0].number
    return numbers[-1] if numbers else 0


def _set_ups(
    shoot: PlannedShoot, done: set[str], current: int, at: datetime
) -> tuple[LocationSetUp, ...]:
    rows, steps = [], steps_of(shoot)
    for one in shoot.set_ups:
        found, facts = one.suggestion, one.facts
        through = settings_through(shoot, one, steps)
        rows.append(
            LocationSetUp(
                shown=shown_set_up(one),
                f_number=found.f_number.nominal if found else "–",
                shutter=found.shutter.nominal if found else "–",
                iso=found.iso.nominal if found else "",
                sun=one.sun_words,
                shift=one.shift_words,
                shift_pk=one.shift.pk if one.shift else None,
                through=through,
                now=through.at(at),
                next_number=facts.number % len(shoot.set_ups) + 1,
                cautions=_cautions(shoot, facts.number),
                is_done=f"set-up:{facts.pk}" in done,
                is_current=facts.number == current,
            )
        )
    return tuple(rows)


def _cautions(shoot: PlannedShoot, number: int) -> tuple[Caution, ...]:
    return tuple(one for one in shoot.cautions if one.set_up == number and one.is_risk)
