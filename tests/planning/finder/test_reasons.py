"""Why there are no slots: the sentence for each thing that may stand in the way."""

from datetime import UTC, date, datetime, time
from typing import Any

import pytest

from planning.finder.reasons import days_words, slot_words, why_not_more
from planning.finder.search import Search
from planning.finder.wishes import Kind, Opening, Side
from planning.shoots.daylight import Where
from planning.sites.skyline import Stretch
from studio.timespan import TimeSpan
from tests.planning.finder.plain import make_wish

FREE = Where(latitude_deg=54.47, longitude_deg=-0.62, time_zone="Europe/London")
HEMMED = Where(
    latitude_deg=54.47,
    longitude_deg=-0.62,
    time_zone="Europe/London",
    skyline=(Stretch(from_deg=0, to_deg=360, height_deg=15.0, name="fell"),),
)
JUNE, DECEMBER = date(2027, 6, 20), date(2027, 12, 20)


# The sun of the solstices at 54.47 north: 90 - 54.47 +/- 23.44 degrees at noon, so 12.1
# at most in December; at midnight in June 54.47 + 23.44 - 90, so never under -12.1.
@pytest.mark.parametrize(
    ("where", "first_on", "fields", "sentence"),
    [
        (FREE, DECEMBER, {"kind": Kind.BRIGHT, "band_deg": (20.0, 90.0)},
         "The sun stands no higher than 12.1° on these days."),
        (FREE, JUNE, {"band_deg": (-18.0, -13.0)},
         "The sun sinks no lower than -12.1° on these days."),
        (FREE, JUNE, {"minutes": 240, "share": 1.0}, "On none of these days does the "
         "sun stand between the horizon and 8° for 240 minutes of one session."),
        (HEMMED, JUNE, {},
         "The skyline hides the sun while it stands at that height."),
        (FREE, JUNE, {"kind": Kind.SHADE},
         "Nothing on this place’s skyline surely shades it long enough."),
        (FREE, DECEMBER, {"kind": Kind.WINDOW_SUN, "opening": Opening(facing_deg=0)},
         "The sun does not come through that window long enough."),
        (FREE, DECEMBER, {"kind": Kind.WINDOW, "opening": Opening(facing_deg=180)},
         "While the sun is that high, it is on the glass."),
        (FREE, DECEMBER, {"side": Side.LEFT, "facing_deg": 90.0, "from_minute": 0,
         "kind": Kind.BRIGHT, "share": 0.25},
         "The light never stands on the sitter’s left with that facing, long enough."),
        (FREE, DECEMBER, {"kind": Kind.BRIGHT, "from_minute": 1200},
         "It is never there long enough between 20:00 and 24:00."),
        (FREE, DECEMBER, {"kind": Kind.BRIGHT, "access_until": time(9, 30)},
         "One gets in only until 09:30: too little of that light."),
        (FREE, DECEMBER, {"not_before": datetime(2028, 1, 1, tzinfo=UTC)},
         "Every start on those days is past, or none is on a day that you tick."),
        (FREE, DECEMBER, {"weekdays": frozenset()},
         "Every start on those days is past, or none is on a day that you tick."),
    ],
)  # fmt: skip
def test_it_says_what_keeps_every_slot_away(
    where: Where, first_on: date, fields: dict[str, Any], sentence: str
) -> None:
    search = Search(make_wish(first_on, 3, **fields), where, {})

    assert search.count == 0
    assert list(why_not_more(search, {})) == [sentence]


def test_the_most_taken_things_are_named_with_their_days() -> None:
    wish = make_wish(DECEMBER, 3, kind=Kind.BRIGHT, share=0.25)
    whole = [
        TimeSpan(
            datetime(2027, 12, day, tzinfo=UTC), datetime(2027, 12, day, 23, tzinfo=UTC)
        )
        for day in (20, 21, 22)
    ]
    taken = {"a": whole[:1], "b": whole[1:], "c": [], "d": whole[:2], "e": whole[2:]}
    names = {name: f"Item {name}" for name in taken}

    search = Search(wish, FREE, taken)

    assert list(why_not_more(search, names)) == [
        "Item b is taken on 2 of 3 days.",
        "Item d is taken on 2 of 3 days.",
        "Item a is taken on 1 of 3 days.",
    ]
    assert days_words(search) == "3 days asked for, none with all free."


def test_one_thing_in_the_morning_and_one_in_the_afternoon_take_the_day() -> None:
    wish = make_wish(DECEMBER, 1, kind=Kind.BRIGHT, share=0.25)
    noon = datetime(2027, 12, 20, 12, tzinfo=UTC)
    morning = TimeSpan(datetime(2027, 12, 20, tzinfo=UTC), noon)
    afternoon = TimeSpan(noon.replace(hour=11), noon.replace(hour=23))

    search = Search(wish, FREE, {"a": [morning], "b": [afternoon]})

    assert list(why_not_more(search, {"a": "A", "b": "B"})) == [
        "What you ask for is never free all at once."
    ]


def test_a_sitter_free_to_turn_is_told_which_way() -> None:
    # On 20 March the sun sets due west, near 270 degrees, so it is on the left of who
    # looks north and from behind of who looks east.
    for side, way in ((Side.LEFT, "north"), (Side.BEHIND, "east")):
        wish = make_wish(date(2027, 3, 20), 1, side=side, from_minute=1020, minutes=60)
        slot = Search(wish, FREE, {}).slots(0, 1)[0]
        assert f"if the sitter looks {way} (" in slot_words(wish, FREE, slot)


def test_bare_trees_that_thin_the_sun_are_named() -> None:
    limes = Stretch(
        from_deg=180, to_deg=330, height_deg=15.0, name="limes",
        leaf_from="04-25", leaf_to="11-10",
    )  # fmt: skip
    park = Where(
        latitude_deg=54.47,
        longitude_deg=-0.62,
        time_zone="Europe/London",
        skyline=(limes,),
    )
    wish = make_wish(DECEMBER, 1, from_minute=720)
    slot = Search(wish, park, {}).slots(0, 1)[0]
    assert ", thinned by bare limes;" in slot_words(wish, park, slot)
