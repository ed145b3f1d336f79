"""Rules that look at a worked-out plan and say what may go wrong.

Each rule is a function that gives cautions; `cautions_for` runs them all. Where a
figure is a habit of the trade and not a published limit, it says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, time
from itertools import pairwise
from zoneinfo import ZoneInfo

from planning.light.solve import LimitName, Suggestion
from planning.shoots.choices import Light
from planning.shoots.daylight import Lost, turn_deg
from planning.shoots.planned import Caution, PlannedSetUp, Weight, short_words
from studio.timespan import clock_words

FALLS_FAST_STOPS = 1.0  # common practice, no source: a stop is one full setting
THIN_FOCUS_M = 0.15  # common practice, no source: about a head's depth
SQUINT_DEG = 45.0  # common practice, no source
SQUINT_BELOW_DEG = 50.0
FRAME_MARGIN_DEG = 5.0
SUN_MATTERS_ABOVE_DEG = 2.0


def set_up_cautions(planned: PlannedSetUp) -> Iterator[Caution]:
    """Give the cautions that one set-up earns by itself."""
    for rule in (
        _nothing_fits,
        _sun_in_the_frame,
        _sun_in_their_eyes,
        _light_falls_fast,
        _shutter_past_sync,
        _focus_too_thin,
        _hand_too_slow,
        _no_flash_chosen,
    ):
        if caution := rule(planned):
            yield caution


def shoot_cautions(
    set_ups: Iterable[PlannedSetUp],
    *,
    lost: Lost | None,
    sunset: datetime | None,
    span: tuple[datetime, datetime],
    zone: ZoneInfo,
) -> Iterator[Caution]:
    """Give the cautions that come from the order of things."""
    planned = list(set_ups)
    yield from _sun_lost(planned, lost, zone)
    if sunset and span[0] < sunset < span[1]:
        after = int((span[1] - sunset).total_seconds() // 60)
        yield Caution(
            title="Sunset inside the session",
            sentence=(
                f"The sun sets at {_clock(sunset, zone)}; the last {after} minutes "
                "are dusk."
            ),
            weight=Weight.NOTE,
        )
    yield from _overlaps(planned, zone)
    yield from _outside(planned, span, zone)


def access_caution(
    planned: Iterable[PlannedSetUp], until: time | None, zone: ZoneInfo
) -> Iterator[Caution]:
    """Give a caution for the first set-up that runs past the place's closing."""
    if until is None:
        return
    for one in planned:
        end = one.facts.ends_at.astimezone(zone)
        if end.time() > until and end.date() == _day(one.facts.starts_at, zone):
            yield Caution(
                title=f"Access ends before set-up {one.facts.number} is over",
                sentence=(
                    f"Access ends at {until:%H:%M}, the set-up at {end:%H:%M}. Move "
                    "cars and heavy kit out before, or ask for longer."
                ),
                set_up=one.facts.number,
            )
            return


def _nothing_fits(planned: PlannedSetUp) -> Caution | None:
    if planned.trouble:
        return Caution(
            title=f"Set-up {planned.facts.number} cannot be worked out",
            sentence=planned.trouble,
            set_up=planned.facts.number,
        )
    suggestion = planned.suggestion
    if suggestion is None or suggestion.fits or suggestion.broken is None:
        return None
    if suggestion.broken.name in _OWN_RULE:
        return None
    return Caution(
        title=f"Set-up {planned.facts.number}: {suggestion.broken.name} does not hold",
        sentence=_short_by(suggestion, suggestion.broken.name),
        set_up=planned.facts.number,
    )


_OWN_RULE = {LimitName.SYNC, LimitName.DEPTH, LimitName.HAND}


def _sun_in_the_frame(planned: PlannedSetUp) -> Caution | None:
    sun, facts = planned.sun_middle, planned.facts
    turn = abs(turn_deg(sun.azimuth_deg, facts.heading_deg))
    inside = turn <= facts.frame_deg / 2 + FRAME_MARGIN_DEG
    low = sun.altitude_deg < facts.frame_deg / 2 + FRAME_MARGIN_DEG + 10.0
    if not (sun.is_shining and inside and low):
        return None
    if sun.altitude_deg < SUN_MATTERS_ABOVE_DEG or facts.light == Light.WINDOW:
        return None
    return Caution(
        title=f"Sun in or near the frame in set-up {facts.number}",
        sentence=(
            "Never aim an optical viewfinder or a long lens at the sun: it harms eyes "
            "at once. Block it behind a sitter or turn; shade the lens against flare."
        ),
        set_up=facts.number,
    )


def _sun_in_their_eyes(planned: PlannedSetUp) -> Caution | None:
    sun, facts = planned.sun_middle, planned.facts
    turn = abs(turn_deg(sun.azimuth_deg, facts.facing_deg))
    if not planned.in_sun or turn > SQUINT_DEG:
        return None
    if not SUN_MATTERS_ABOVE_DEG < sun.altitude_deg < SQUINT_BELOW_DEG:
        return None
    return Caution(
        title=f"Sun in the sitters’ eyes in set-up {facts.number}",
        sentence=(
            f"It stands {sun.altitude_deg:.0f}° up, {turn:.0f}° off where they look. "
            "Turn them, or count to three with eyes closed."
        ),
        set_up=facts.number,
    )


def _light_falls_fast(planned: PlannedSetUp) -> Caution | None:
    change = planned.end.exposure_value - planned.start.exposure_value
    if abs(change) < FALLS_FAST_STOPS or planned.is_flash_lit:
        return _background_darkens(planned, change)
    verb = "falls" if change < 0 else "rises"
    return Caution(
        title=f"Light {verb} fast in set-up {planned.facts.number}",
        sentence=(
            f"By {abs(change):.1f} stops in {planned.facts.minutes} minutes. Check "
            "the exposure every few frames."
        ),
        set_up=planned.facts.number,
    )


def _background_darkens(planned: PlannedSetUp, change: float) -> Caution | None:
    if not planned.is_flash_lit or change > -FALLS_FAST_STOPS:
        return None
    return Caution(
        title=f"Background goes dark in set-up {planned.facts.number}",
        sentence=(
            f"The flash holds the faces; what lies behind drops by {-change:.1f} "
            "stops. Take the frames with a view first."
        ),
        set_up=planned.facts.number,
    )


def _shutter_past_sync(planned: PlannedSetUp) -> Caution | None:
    return _broken(
        planned,
        LimitName.SYNC,
        f"Shutter past flash sync in set-up {planned.facts.number}",
    )


def _focus_too_thin(planned: PlannedSetUp) -> Caution | None:
    if caution := _broken(
        planned,
        LimitName.DEPTH,
        f"Focus is thinner than the group in set-up {planned.facts.number}",
    ):
        return caution
    suggestion = planned.suggestion
    if suggestion is None or suggestion.zone.total_m >= THIN_FOCUS_M:
        return None
    depth_cm = suggestion.zone.total_m * 100.0
    return Caution(
        title=f"Very thin focus in set-up {planned.facts.number}",
        sentence=(
            f"{depth_cm:.0f} cm at {planned.facts.focal_length_mm:.0f} mm, "
            f"{suggestion.f_number.nominal}, {planned.facts.distance_m:.1f} m. Focus "
            "on the near eye."
        ),
        set_up=planned.facts.number,
        weight=Weight.NOTE,
    )


def _hand_too_slow(planned: PlannedSetUp) -> Caution | None:
    return _broken(
        planned,
        LimitName.HAND,
        f"Too slow to hold by hand in set-up {planned.facts.number}",
    )


def _no_flash_chosen(planned: PlannedSetUp) -> Caution | None:
    if planned.facts.light != Light.FLASH or planned.facts.flash_name:
        return None
    return Caution(
        title=f"No flash chosen for set-up {planned.facts.number}",
        sentence="It is planned by flash. Choose one, and the settings follow.",
        set_up=planned.facts.number,
    )


def _broken(planned: PlannedSetUp, name: LimitName, title: str) -> Caution | None:
    suggestion = planned.suggestion
    if suggestion is None:
        return None
    for limit in suggestion.limits:
        if limit.name == name and limit.must and not limit.met:
            return Caution(
                title=title,
                sentence=_short_by(suggestion, name),
                set_up=planned.facts.number,
            )
    return None


def _short_by(suggestion: Suggestion, name: LimitName) -> str:
    limit = next(one for one in suggestion.limits if one.name == name)
    said = f"{limit.sentence.rstrip('.')}: {short_words(limit)}."
    return " ".join([said, *(one.sentence for one in suggestion.remedies[:2])])


def _sun_lost(
    planned: list[PlannedSetUp], lost: Lost | None, zone: ZoneInfo
) -> Iterator[Caution]:
    if lost is None:
        return
    for one in planned:
        if one.in_sun_at_start and one.facts.ends_at > lost.earliest_at:
            judged = ", skyline estimated" if lost.estimated else ""
            behind = f" behind {lost.behind}" if lost.behind else ""
            yield Caution(
                title=f"Set-up {one.facts.number} may run out of sun",
                sentence=(
                    f"It runs to {_clock(one.facts.ends_at, zone)}; the sun goes"
                    f"{behind} {lost_words(lost, zone)}{judged}. Start it earlier."
                ),
                set_up=one.facts.number,
            )


def _overlaps(planned: list[PlannedSetUp], zone: ZoneInfo) -> Iterator[Caution]:
    in_order = sorted(planned, key=lambda one: one.facts.starts_at)
    for one, two in pairwise(in_order):
        if one.facts.ends_at > two.facts.starts_at:
            yield Caution(
                title=f"Set-ups {one.facts.number} and {two.facts.number} overlap",
                sentence=(
                    f"{one.facts.name} runs to {_clock(one.facts.ends_at, zone)}, "
                    f"{two.facts.name} starts at {_clock(two.facts.starts_at, zone)}."
                ),
                set_up=two.facts.number,
            )


def _outside(
    planned: list[PlannedSetUp], span: tuple[datetime, datetime], zone: ZoneInfo
) -> Iterator[Caution]:
    for one in planned:
        if one.facts.starts_at < span[0] or one.facts.ends_at > span[1]:
            yield Caution(
                title=f"Set-up {one.facts.number} is outside the session",
                sentence=(
                    f"The session runs from {_clock(span[0], zone)} to "
                    f"{_clock(span[1], zone)}. Move the set-up or the session."
                ),
                set_up=one.facts.number,
            )


def lost_words(lost: Lost, zone: ZoneInfo) -> str:
    """Return when the sun is lost: "about 17:10–17:25" or "at 18:07"."""
    if lost.is_sharp:
        return f"at {_clock(lost.latest_at, zone)}"
    first, last = _clock(lost.earliest_at, zone), _clock(lost.latest_at, zone)
    return f"about {first}–{last}"


def _clock(at: datetime, zone: ZoneInfo) -> str:
    return clock_words(at.astimezone(zone))


def _day(at: datetime, zone: ZoneInfo) -> object:
    return at.astimezone(zone).date()
