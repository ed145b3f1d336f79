"""Why a slot is offered, and why there are no more of them, in plain sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import Final

from planning.finder.grid import day_of
from planning.finder.search import Left, Search, Slot, Step
from planning.finder.wanted import horizon_on
from planning.finder.wishes import DAY_MIN, QUARTER_DEG, Kind, Side, Wish
from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.shoots.daylight import Where, turn_deg
from studio.timespan import clock_words

NAMES: Final = {
    Kind.LOW_SUN: "Low sun",
    Kind.BRIGHT: "Bright sun",
    Kind.SHADE: "Open shade",
    Kind.TWILIGHT: "Twilight",
    Kind.WINDOW: "Window light without the sun",
    Kind.WINDOW_SUN: "Sun through the window",
}
SIDES: Final = {
    Side.ANY: "",
    Side.LEFT: " on the sitter’s left",
    Side.RIGHT: " on the sitter’s right",
    Side.FRONT: " from in front of the sitter",
    Side.BEHIND: " from behind the sitter",
}
POINTS: Final = (
    *("north", "north-east", "east", "south-east"),
    *("south", "south-west", "west", "north-west"),
)
MOST_NAMED: Final = 3
MOST_RUNS: Final = 4
LONG_MARGIN_MIN: Final = 60


def slot_words(wish: Wish, where: Where, slot: Slot) -> str:
    """Say in one sentence what light a slot gets, when it goes, and what is spare."""
    clocks = f"from {_clock(slot.lit_from, where)} to {_clock(slot.lit_until, where)}"
    if slot.lit_minutes == wish.minutes:
        clocks = "all through"
    elif slot.lit_until - slot.lit_from > timedelta(minutes=slot.lit_minutes):
        clocks += f" with gaps, {slot.lit_minutes} minutes in all"
    words = f"{NAMES[wish.kind]}{_height_words(wish, slot)}{SIDES[wish.side]} {clocks}"
    words += _turn_words(wish, slot)
    words += _bare_words(wish, where, slot)
    if slot.lit_until < slot.end_at and (cause := _cause(wish, where, slot)):
        words += f"; then {cause}"
    return f"{words}; {_margin_words(slot.margin_minutes)}."


def days_words(search: Search) -> str:
    """Say how many days each condition leaves, from those asked for to those free."""
    first, *rest = search.left
    rest = [
        one
        for one, last in zip(rest, search.left, strict=False)
        if one.days < last.days
    ]
    if not rest:
        return f"{_days(first.days)} {first.step.value}, each with a slot."
    parts = [f"{_days(first.days)} {first.step.value}"]
    parts += [f"{one.days or 'none'} {one.step.value}" for one in rest]
    return ", ".join(parts) + "."


def why_not_more(search: Search, names: Mapping[str, str]) -> Iterator[str]:
    """Say what stands in the way: the light, its dates, the hours, what is taken."""
    stopped = next((one.step for one in search.left if not one.days), None)
    if not search.starts.at.size:
        yield "Every start on those days is past, or none is on a day that you tick."
        return
    if stopped in {Step.HEIGHT, Step.REACH, Step.SIDE}:
        yield _light_words(search, stopped)
        return
    yield from _season_words(search)
    if stopped is Step.HOURS:
        yield _hours_words(search)
    if stopped is Step.ACCESS:
        yield _access_words(search.wish)
    yield from _taken_words(search, names)


def _height_words(wish: Wish, slot: Slot) -> str:
    if not wish.kind.is_sun:
        return ""
    first, last = round(slot.first_altitude_deg), round(slot.last_altitude_deg)
    if first == last:
        return f", at {_height(first)},"
    way = "rising" if last > first else "sinking"
    return f", {way} from {_height(first)} to {_height(last)},"


def _height(degrees: int) -> str:
    return f"{degrees}°" if degrees > 0 else "the horizon"


def _turn_words(wish: Wish, slot: Slot) -> str:
    """Say which way a sitter who is free to turn should look."""
    if wish.side is Side.ANY or wish.facing_deg is not None:
        return ""
    facing = (slot.azimuth_deg - wish.side.turn_deg) % 360.0
    return f" if the sitter looks {point_of(facing)} ({facing:.0f}°)"


def _bare_words(wish: Wish, where: Where, slot: Slot) -> str:
    if not wish.kind.is_sun or wish.kind.is_indoors:
        return ""
    trees = horizon_on(where, day_of(slot.on)).bare_at(slot.azimuth_deg)
    middle = (slot.first_altitude_deg + slot.last_altitude_deg) / 2.0
    if trees is None or middle >= trees.height_deg:
        return ""
    return f", thinned by bare {trees.name or 'trees'}"


def _cause(wish: Wish, where: Where, slot: Slot) -> str:
    """Say what ends the light within a session."""
    low, high = wish.band
    up, azimuth = slot.next_altitude_deg, slot.next_azimuth_deg
    if up < low:
        return _sunk_words(wish, low)
    if up > high:
        rises = high == SUNSET_ALTITUDE_DEG
        return "the sun rises" if rises else f"the sun climbs over {high:.0f}°"
    if wish.side is not Side.ANY and wish.facing_deg is not None:
        middle = wish.facing_deg + wish.side.turn_deg
        if abs(turn_deg(azimuth, middle)) > QUARTER_DEG:
            return "it moves off that side"
    if wish.kind.is_indoors:
        return f"the sun {'leaves' if wish.kind.is_sun else 'comes onto'} the glass"
    if wish.kind is Kind.SHADE:
        return "the sun may come round"
    ridge = horizon_on(where, day_of(slot.on)).at(azimuth)
    name = ridge.name if ridge and ridge.name else "the skyline"
    return f"{'the sun may go' if where.estimated else 'the sun goes'} behind {name}"


def _sunk_words(wish: Wish, low_deg: float) -> str:
    if wish.kind is Kind.TWILIGHT:
        return "it is too dark"
    if low_deg == SUNSET_ALTITUDE_DEG:
        return "the sun sets"
    return f"the sun is under {low_deg:.0f}°"


def _margin_words(minutes: int) -> str:
    if minutes >= LONG_MARGIN_MIN:
        return "the start may slip by an hour or more"
    if minutes:
        return f"the start may slip by {minutes} minute{'s' * (minutes != 1)}"
    return "the start may not slip"


def _light_words(search: Search, step: Step) -> str:
    """Say why the light is there on none of the days."""
    if step is Step.HEIGHT:
        return _too_high_or_low(search)
    wish = search.wish
    if step is Step.SIDE:
        return (
            f"The light never stands{SIDES[wish.side]} with that facing, long enough."
        )
    return {
        Kind.SHADE: "Nothing on this place’s skyline surely shades it long enough.",
        Kind.WINDOW: "While the sun is that high, it is on the glass.",
        Kind.WINDOW_SUN: "The sun does not come through that window long enough.",
    }.get(wish.kind, "The skyline hides the sun while it stands at that height.")


def _too_high_or_low(search: Search) -> str:
    low, high = search.wish.band
    top, bottom = search.sun.altitude_deg.max(), search.sun.altitude_deg.min()
    if top < low:
        return f"The sun stands no higher than {top:.1f}° on these days."
    if bottom > high:
        return f"The sun sinks no lower than {bottom:.1f}° on these days."
    held = f"{search.wish.needed_minutes} minutes of one session"
    between = f"between {_degrees(low)} and {_degrees(high)}"
    return f"On none of these days does the sun stand {between} for {held}."


def _season_words(search: Search) -> Iterator[str]:
    """Say from when, or until when, the light is there."""
    lit = [one for one in search.left if one.days and one.step is not Step.FREE][-1]
    if lit.step is Step.ASKED or len(lit.runs) > MOST_RUNS:
        return
    first, last = search.starts.day.min(), search.starts.day.max()
    runs = [_run_words(run, int(first), int(last)) for run in lit.runs]
    if all(runs):
        inside = _within(lit, search.wish)
        yield f"That light is there{inside} only {', and '.join(runs)}."


def _run_words(run: tuple[date, date], first_day: int, last_day: int) -> str:
    """Return from when to when; nothing where that is all that was asked for."""
    start, end = run
    from_words = f"from {_day(start)}" if day_of(start) > first_day else ""
    if start == end:
        return f"on {_day(start)}" if first_day < last_day else ""
    until = f"until {_day(end)}" if day_of(end) < last_day else ""
    return " ".join(filter(None, [from_words, until]))


def _within(lit: Left, wish: Wish) -> str:
    whole = wish.hours.width_minutes == DAY_MIN
    inside = lit.step in {Step.HOURS, Step.ACCESS} and not whole
    return " within your hours" if inside else ""


def _hours_words(search: Search) -> str:
    hours = search.wish.hours
    opens, closes = _minute(hours.from_minute), _minute(hours.until_minute)
    return f"It is never there long enough between {opens} and {closes}."


def _access_words(wish: Wish) -> str:
    opens, closes = wish.hours.access_from, wish.hours.access_until
    open_words = [f"from {opens:%H:%M}"] if opens else []
    open_words += [f"until {closes:%H:%M}"] if closes else []
    return f"One gets in only {' '.join(open_words)}: too little of that light."


def _taken_words(search: Search, names: Mapping[str, str]) -> Iterator[str]:
    before = search.left[-2].days
    lost = sorted(search.lost_to.items(), key=lambda one: (-one[1], one[0]))
    for resource, days in lost[:MOST_NAMED]:
        yield f"{names[resource]} is taken on {days} of {_days(before)}."
    if not lost and before > search.left[-1].days:
        yield "What you ask for is never free all at once."


def point_of(heading_deg: float) -> str:
    """Return the nearest of eight compass points in words."""
    return POINTS[round(heading_deg / 45.0) % 8]


def _degrees(height_deg: float) -> str:
    return "the horizon" if height_deg == SUNSET_ALTITUDE_DEG else f"{height_deg:g}°"


def _clock(at: datetime, where: Where) -> str:
    return clock_words(at.astimezone(where.zone))


def _minute(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"


def _day(on: date) -> str:
    return f"{on.day} {on:%B %Y}"


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"
