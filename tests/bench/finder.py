"""How fast the finder is, as ratios: `uv run python -m tests.bench.finder`.

A year at a place with a skyline and held time, every minute of it. Goals: at most ten
times the bare trigonometry of those minutes (one sine, cosine, arcsine and arctangent
each), and at most a tenth of pvlib's SPA for their positions alone; for two weeks, at
most a thirtieth of plain loops over SPA that do the same search. A year is to take less
than a second, so its time is printed too.
"""

from datetime import UTC, date, datetime, timedelta

import numpy as np
from pvlib import spa

from planning.finder.reasons import days_words, slot_words, why_not_more
from planning.finder.search import Search
from planning.finder.wishes import Side, Wish
from studio.timespan import TimeSpan
from tests.bench.pairwise import Work, in_turn, milliseconds, ratio
from tests.planning.finder.plain import (
    COAST,
    lit_by_spa,
    make_wish,
    starts_by_hand,
)

FIRST_ON = date(2027, 1, 1)
MONDAY = datetime(2027, 1, 4, 9, tzinfo=UTC)
MINUTES = 365 * 1440
ANGLES = np.linspace(-3.0, 3.0, MINUTES)
YEAR_S = datetime(2027, 1, 1, tzinfo=UTC).timestamp() + np.arange(MINUTES) * 60.0
TAKEN = {
    name: [
        TimeSpan(start, start + timedelta(hours=5))
        for week in range(52)
        for start in [MONDAY + timedelta(days=7 * week + day)]
    ]
    for day, name in enumerate(("ada", "bram", "camera", "flash"))
}


def asked(days: int) -> Wish:
    return make_wish(
        FIRST_ON,
        days,
        side=Side.LEFT,
        facing_deg=330.0,
        weekdays=frozenset(range(5)),
        from_minute=720,
        until_minute=1260,
        before_minutes=30,
    )


def a_year() -> int:
    """Search a year, and word a page of what was found as the page does."""
    search = Search(asked(365), COAST, TAKEN)
    days_words(search)
    list(why_not_more(search, {name: name for name in TAKEN}))
    slots = search.slots(0, 20)
    return sum(len(slot_words(search.wish, COAST, slot)) for slot in slots)


def two_weeks() -> None:
    Search(asked(14), COAST, {})


def two_weeks_by_loops() -> None:
    wish = asked(14)
    starts_by_hand(wish, COAST, lit_by_spa(wish, COAST))


def trigonometry() -> None:
    sine, cosine = np.sin(ANGLES), np.cos(ANGLES)
    np.arcsin(sine)
    np.arctan2(sine, cosine)


def positions_by_spa() -> None:
    spa.solar_position(
        YEAR_S,
        COAST.latitude_deg,
        COAST.longitude_deg,
        0.0,
        1010.0,
        10.0,
        69.1,
        0.5667,
    )


YEAR: dict[str, Work] = {"a year searched": a_year, "trigonometry": trigonometry}
BESIDE: dict[str, Work] = {"a year searched": a_year, "positions": positions_by_spa}
WEEKS: dict[str, Work] = {
    "two weeks searched": two_weeks,
    "two weeks by loops": two_weeks_by_loops,
}


def main() -> None:
    """Print the ratios with their goals."""
    year = in_turn(YEAR, rounds=9)
    found = ratio(year, "a year searched", "trigonometry")
    spent = milliseconds(year, "a year searched")
    print(f"A year of {MINUTES} minutes, {spent:.0f} ms of CPU")
    print(f"  a year searched / bare trigonometry: {found}  goal <= 10")
    beside = in_turn(BESIDE, rounds=3)
    found = ratio(beside, "positions", "a year searched")
    print(f"  positions alone by SPA / a year searched: {found}  goal >= 10")
    weeks = in_turn(WEEKS, rounds=5)
    found = ratio(weeks, "two weeks by loops", "two weeks searched")
    print(f"  two weeks by loops over SPA / searched: {found}  goal >= 30")


if __name__ == "__main__":
    main()
