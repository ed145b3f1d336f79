"""The search against pvlib's SPA and plain loops, and against days worked by hand."""

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import numpy as np
import pytest

from planning.finder.search import Search, Step
from planning.finder.wishes import Kind, Opening, Side, Wish
from planning.shoots.daylight import Where
from planning.sites.skyline import Stretch
from studio.timespan import TimeSpan
from tests.planning.finder.plain import (
    COAST,
    MINUTE,
    lit_by_spa,
    make_wish,
    starts_by_hand,
)

NORTH = Where(latitude_deg=69.65, longitude_deg=18.96, time_zone="Europe/Oslo")
SUNDAYS = frozenset({6})


def search(wish: Wish, where: Where = COAST, **taken: list[TimeSpan]) -> Search:
    return Search(wish, where, taken)


def all_starts(found: Search) -> dict[datetime, int]:
    """Return every start with enough light within the hours, held or not."""
    return {
        found.grid.instant(at): int(found.lit[at : at + found.wish.minutes].sum())
        for at in found.starts.at[found.unheld].tolist()
    }


# Weeks around both clock changes of London and Chile (there at midnight), midsummer,
# midwinter; Lord Howe changes by half an hour, Chatham's offset has three quarters.
@pytest.mark.parametrize(
    ("where", "first_on", "fields"),
    [
        (COAST, date(2027, 3, 22), {"side": Side.LEFT, "facing_deg": 330.0}),
        (COAST, date(2027, 10, 25), {"side": Side.RIGHT, "facing_deg": 120.0}),
        (COAST, date(2027, 6, 18), {"kind": Kind.SHADE, "share": 0.25, "minutes": 60}),
        (COAST, date(2027, 12, 18), {"kind": Kind.BRIGHT, "side": Side.BEHIND,
         "facing_deg": 10.0, "weekdays": frozenset(range(5)), "from_minute": 720}),
        (COAST, date(2027, 5, 1), {"kind": Kind.TWILIGHT, "minutes": 30,
         "share": 1.0, "from_minute": 1200, "until_minute": 120}),
        (COAST, date(2027, 9, 1), {"kind": Kind.WINDOW, "share": 1.0,
         "opening": Opening(facing_deg=200.0, obstruction_deg=12.0)}),
        (COAST, date(2027, 9, 1), {"kind": Kind.WINDOW_SUN, "side": Side.ANY,
         "opening": Opening(facing_deg=250.0, obstruction_deg=12.0)}),
        (NORTH, date(2027, 5, 14), {"side": Side.FRONT, "facing_deg": 350.0,
         "from_minute": 1080, "until_minute": 360}),
        (Where(latitude_deg=-33.45, longitude_deg=-70.67,
         time_zone="America/Santiago"), date(2027, 8, 30), {}),
        (Where(latitude_deg=-31.55, longitude_deg=159.08,
         time_zone="Australia/Lord_Howe"), date(2027, 3, 30), {}),
        (Where(latitude_deg=-43.95, longitude_deg=-176.55,
         time_zone="Pacific/Chatham"), date(2027, 9, 20), {"minutes": 45}),
    ],
)  # fmt: skip
def test_it_finds_what_plain_loops_over_spa_find(
    where: Where, first_on: date, fields: dict[str, Any]
) -> None:
    wish = make_wish(first_on, 8, **fields)
    found = search(wish, where)

    expected = lit_by_spa(wish, where)
    ours = {
        at: bool(found.lit[found.grid.index(at)])
        for at in expected
        if found.grid.index(at) < found.grid.size
    }
    # Minutes within 0.0005 degrees of an edge may fall either way: about one edge in
    # two hundred, and eight days have some thirty.
    assert sum(ours[at] is not expected[at] for at in ours) <= 2
    assert any(expected.values())
    assert all_starts(found) == starts_by_hand(wish, where, ours)


def test_the_best_of_each_day_comes_first_by_light_margin_and_time() -> None:
    wish = make_wish(date(2027, 3, 22), 10, minutes=90)
    found = search(wish)
    starts = all_starts(found)
    score = {}
    for at, lit in starts.items():
        slip = 0
        while slip < 30 and _enough(found, at + MINUTE * (slip + 1)):
            slip += 1
        score[at] = 2 * lit + slip
    by_day: dict[date, list[datetime]] = {}
    for at in sorted(starts, key=lambda one: (-score[one], one)):
        by_day.setdefault(at.astimezone(COAST.zone).date(), []).append(at)
    firsts = [ats[0] for ats in by_day.values()]

    shown = found.slots(0, found.count)

    assert [slot.start_at for slot in shown[: len(firsts)]] == firsts
    assert len({slot.on for slot in shown[: len(firsts)]}) == len(firsts)
    length = timedelta(minutes=90)
    for slot in shown[len(firsts) :]:
        assert abs(slot.start_at - by_day[slot.on][0]) >= length


def _enough(found: Search, at: datetime) -> bool:
    index = found.grid.index(at)
    wish = found.wish
    held = found.lit[index : index + wish.minutes].sum()
    return bool(held >= wish.minutes * wish.share)


def test_low_side_light_of_an_october_afternoon() -> None:
    # skyfield 1.55 with DE421 at 54.47, -0.62: the sun sets at 17:07:33 UTC on
    # 14 October 2027 and sinks through 8 degrees at 16:02:55, in the west-south-west.
    # The sitter looks north-west (330), so a sun there stands on the left.
    free = Where(latitude_deg=54.47, longitude_deg=-0.62, time_zone="Europe/London")
    wish = make_wish(
        date(2027, 10, 14), 1, side=Side.LEFT, facing_deg=330.0, from_minute=720
    )

    best = search(wish, free).slots(0, 1)[0]

    assert best.lit_from == datetime(2027, 10, 14, 16, 3, tzinfo=UTC)
    assert best.lit_until == datetime(2027, 10, 14, 17, 8, tzinfo=UTC)
    assert best.lit_minutes == 65


def test_a_headland_takes_the_evenings_and_none_is_left() -> None:
    tall = Stretch(from_deg=180, to_deg=330, height_deg=10.0, name="fell")
    hemmed = Where(
        latitude_deg=54.47,
        longitude_deg=-0.62,
        time_zone="Europe/London",
        skyline=(tall,),
    )
    wish = make_wish(date(2027, 10, 1), 14, from_minute=720)

    found = search(wish, hemmed)

    assert found.count == 0
    days = {left.step: left.days for left in found.left}
    assert days[Step.HEIGHT] == 14
    assert days[Step.REACH] == 14  # the mornings stay
    assert days[Step.HOURS] == 0


def test_trees_hide_the_sun_only_in_leaf() -> None:
    limes = Stretch(
        from_deg=180, to_deg=330, height_deg=15.0, leaf_from="04-25", leaf_to="11-10"
    )
    park = Where(
        latitude_deg=54.47,
        longitude_deg=-0.62,
        time_zone="Europe/London",
        skyline=(limes,),
    )
    wish = make_wish(date(2027, 11, 1), 20, from_minute=720)

    days = {slot.on for slot in search(wish, park).slots(0, 40)}

    assert days == {date(2027, 11, day) for day in range(11, 21)}


def test_shade_needs_something_that_gives_it() -> None:
    free = Where(latitude_deg=54.47, longitude_deg=-0.62, time_zone="Europe/London")
    wish = make_wish(date(2027, 6, 1), 7, kind=Kind.SHADE)

    assert search(wish, free).count == 0


def test_a_polar_night_has_no_sun_and_a_polar_day_no_twilight() -> None:
    # From memory: at Tromsø the sun stays down from late November to mid January and
    # does not set from late May to late July.
    winter = search(make_wish(date(2027, 12, 10), 20), NORTH)
    assert winter.count == 0
    assert {left.step: left.days for left in winter.left}[Step.HEIGHT] == 0

    summer = make_wish(date(2027, 6, 10), 20, kind=Kind.TWILIGHT, minutes=15)
    assert search(summer, NORTH).count == 0


@pytest.mark.parametrize("latitude_deg", [90.0, -90.0])
def test_the_poles_have_a_search_too(latitude_deg: float) -> None:
    pole = Where(latitude_deg=latitude_deg, longitude_deg=0.0, time_zone="UTC")

    found = search(make_wish(date(2027, 3, 10), 21), pole)

    assert found.count > 0


def test_what_is_held_takes_its_time_with_setting_up_and_packing() -> None:
    wish = make_wish(
        date(2027, 10, 14),
        1,
        kind=Kind.BRIGHT,
        share=0.25,
        minutes=60,
        before_minutes=30,
        after_minutes=15,
    )
    held = TimeSpan(
        datetime(2027, 10, 14, 10, 40, tzinfo=UTC),
        datetime(2027, 10, 14, 12, 10, tzinfo=UTC),
    )
    free, found = search(wish), search(wish, flash=[held])
    lost = {
        at
        for at in all_starts(free)
        if at - timedelta(minutes=30) < held.end
        and held.start < at + timedelta(minutes=75)
    }
    assert lost  # from 09:30 to 12:30
    every = {found.grid.instant(at) for at in found.starts.at[found.passed]}
    assert every == set(all_starts(free)) - lost


def test_a_day_taken_whole_is_counted_against_what_took_it() -> None:
    wish = make_wish(date(2027, 10, 11), 5, kind=Kind.BRIGHT)
    whole = [
        TimeSpan(
            datetime(2027, 10, day, tzinfo=UTC), datetime(2027, 10, day, 23, tzinfo=UTC)
        )
        for day in (12, 14)
    ]

    found = search(wish, flash=whole, ada=whole[:1], tripod=[])

    assert found.lost_to == {"flash": 2, "ada": 1}
    assert {slot.on.day for slot in found.slots(0, 20)} == {11, 13, 15}


def test_of_several_things_any_that_is_free_will_do_and_one_each() -> None:
    wish = make_wish(date(2027, 10, 11), 5, kind=Kind.BRIGHT)
    day_12, day_13, day_14 = (
        TimeSpan(
            datetime(2027, 10, day, tzinfo=UTC), datetime(2027, 10, day, 23, tzinfo=UTC)
        )
        for day in (12, 13, 14)
    )
    cameras = {"a": [day_12, day_13], "b": [day_13, day_14]}

    one = Search(wish, COAST, {}, [cameras])
    two = Search(wish, COAST, {}, [cameras, cameras])

    picked = {slot.on.day: one.chosen(slot) for slot in one.slots(0, 20)}
    assert picked == {11: ["a"], 12: ["b"], 14: ["a"], 15: ["a"]}
    assert one.lost_to == {"a|b": 1}
    both = {slot.on.day: two.chosen(slot) for slot in two.slots(0, 20)}
    assert both == {11: ["a", "b"], 15: ["a", "b"]}


def test_nothing_starts_in_the_past_or_after_the_place_has_closed() -> None:
    now = datetime(2027, 10, 14, 15, 20, tzinfo=UTC)
    wish = make_wish(
        date(2027, 10, 14),
        2,
        kind=Kind.BRIGHT,
        share=0.25,
        minutes=30,
        not_before=now,
        access_until=time(17),
    )

    found = search(wish)

    starts = {found.grid.instant(at) for at in found.starts.at[found.passed]}
    assert min(starts) == datetime(2027, 10, 14, 15, 30, tzinfo=UTC)
    ends = {at + timedelta(minutes=30) for at in starts}
    assert max(ends) <= datetime(2027, 10, 15, 16, 0, tzinfo=UTC)  # 17:00 in London


def test_setting_up_and_packing_lie_within_the_hours_of_access() -> None:
    wish = make_wish(
        date(2027, 6, 14),
        1,
        kind=Kind.BRIGHT,
        minutes=60,
        before_minutes=30,
        after_minutes=15,
        access_from=time(10),
        access_until=time(14),
    )

    found = search(wish)

    starts = {found.grid.instant(at) for at in found.starts.at[found.passed]}
    # 10:30 to 12:45 by London's clock, an hour ahead of UTC
    assert min(starts) == datetime(2027, 6, 14, 9, 30, tzinfo=UTC)
    assert max(starts) == datetime(2027, 6, 14, 11, 45, tzinfo=UTC)


def test_weekdays_are_those_of_the_calendar() -> None:
    wish = make_wish(date(2027, 10, 1), 31, kind=Kind.BRIGHT, weekdays=SUNDAYS)

    found = search(wish)

    assert found.left[0].days == 5
    assert {slot.on.weekday() for slot in found.slots(0, 60)} == {6}
    assert sorted({slot.on.day for slot in found.slots(0, 60)}) == [3, 10, 17, 24, 31]


def test_a_session_needs_its_share_to_the_minute() -> None:
    wish = make_wish(date(2027, 10, 14), 1, minutes=75, share=0.8, from_minute=720)
    lit = [slot.lit_minutes for slot in search(wish).slots(0, 9)]
    assert all(one >= 60 for one in lit)
    assert wish.needed_minutes == 60


@pytest.mark.parametrize(
    "fields",
    [
        {"minutes": 0},
        {"minutes": 721},
        {"share": 0.0},
        {"share": 1.2},
        {"kind": Kind.WINDOW},
    ],
)
def test_what_cannot_be_wished_is_a_callers_mistake(fields: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"minutes|share|window"):
        make_wish(date(2027, 1, 1), 7, **fields)


@pytest.mark.parametrize("days", [0, 367])
def test_a_search_spans_a_day_to_a_year(days: int) -> None:
    with pytest.raises(ValueError, match="within a year"):
        make_wish(date(2027, 1, 1), days)


def test_a_search_of_no_days_of_the_week_finds_none() -> None:
    found = search(make_wish(date(2027, 1, 1), 7, weekdays=frozenset()))
    assert found.count == 0
    assert not np.any(found.passed)
