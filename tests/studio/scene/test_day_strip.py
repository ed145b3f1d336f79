from itertools import combinations, pairwise

import pytest

from studio.scene.day_phases import (
    Block,
    DayPhase,
    DayPhases,
    PhaseStart,
    clock,
    describe_day,
    phase_at,
    phases_from_altitudes,
    window_for,
)
from studio.scene.day_strip import StripLook, day_strip
from studio.scene.drawing import Hatch, Polygon, Rect, Text
from studio.scene.widths import words_width

OCTOBER = (
    PhaseStart(0, DayPhase.NIGHT),
    PhaseStart(370, DayPhase.NAUTICAL),
    PhaseStart(410, DayPhase.CIVIL),
    PhaseStart(448, DayPhase.LOW_SUN),
    PhaseStart(520, DayPhase.DAY),
    PhaseStart(1012, DayPhase.LOW_SUN),
    PhaseStart(1087, DayPhase.CIVIL),
    PhaseStart(1124, DayPhase.NAUTICAL),
    PhaseStart(1165, DayPhase.NIGHT),
)
DAY = DayPhases(phases=OCTOBER, first_minute=360, last_minute=1260)


def block(start: float, end: float, label: str = "", *, held: bool = False) -> Block:
    return Block(start_minute=start, end_minute=end, label=label, held=held)


def labels(*blocks: Block, now: float | None = None) -> list[Text]:
    strip = day_strip(DAY, blocks=blocks, now_minute=now)
    return [op for op in strip.ops if isinstance(op, Text)]


def span(text: Text) -> tuple[float, float]:
    half = words_width(text.words, size=text.size, weight=text.weight) / 2
    return text.x - half, text.x + half


def test_the_phases_cover_the_strip_from_edge_to_edge() -> None:
    fills = {"white", "g200", "g400", "g500", "g600"}
    strip = day_strip(DAY)

    parts = [op for op in strip.ops if isinstance(op, Rect) and op.fill in fills]

    assert parts[0].x == 0
    assert parts[-1].x + parts[-1].width == pytest.approx(620)
    for left, right in pairwise(parts):
        assert left.x + left.width == pytest.approx(right.x)
    assert [part.fill for part in parts] == [
        *("g600", "g500", "g400", "g200", "white"),
        *("g200", "g400", "g500", "g600"),
    ]


def test_booked_time_is_yellow_with_an_ink_outline() -> None:
    strip = day_strip(DAY, blocks=[block(900, 1125)])

    (booked,) = (op for op in strip.ops if isinstance(op, Rect) and op.fill == "sun")

    assert booked.x == pytest.approx(620 * (900 - 360) / 900)
    assert booked.width == pytest.approx(620 * 225 / 900)
    assert booked.pen is not None
    assert booked.pen.colour == "ink"


def test_held_time_is_hatched_and_not_yellow() -> None:
    strip = day_strip(DAY, blocks=[block(900, 1125, held=True)])

    rects = [op for op in strip.ops if isinstance(op, Rect)]

    assert [op.hatch for op in rects if op.hatch] == [Hatch.RISING]
    assert not any(op.fill == "sun" for op in rects)


def test_a_minute_of_booked_time_can_still_be_seen() -> None:
    for start in (360, 800, 1259):
        strip = day_strip(DAY, blocks=[block(start, start + 1)])
        (booked,) = (o for o in strip.ops if isinstance(o, Rect) and o.fill == "sun")

        assert booked.width >= 4
        assert booked.x >= 0
        assert booked.x + booked.width <= 620


def test_no_two_labels_touch() -> None:
    crowd = [block(600 + 20 * i, 618 + 20 * i, f"Client {i}, 10:00") for i in range(6)]

    found = labels(*crowd, now=640)

    for one, other in combinations(found, 2):
        (a, b), (c, d) = span(one), span(other)
        assert one.y != other.y or b <= c or d <= a
    assert {f"Client {i}, 10:00" for i in range(6)} <= {text.words for text in found}
    assert all(span(text)[0] > -0.01 and span(text)[1] < 620.01 for text in found)


def test_hours_give_way_to_now() -> None:
    words = [text.words for text in labels(now=12 * 60 + 5)]

    assert words[0] == "now 12:05"
    assert "12" not in words
    assert "15" in words


def test_lowered_labels_make_the_drawing_taller() -> None:
    plain = day_strip(DAY)
    crowded = day_strip(DAY, blocks=[block(600, 660, "One"), block(610, 670, "Two")])
    bare = day_strip(DAY, look=StripLook(hours=False))

    assert bare.height < plain.height < crowded.height
    deepest = max(op.y for op in crowded.ops if isinstance(op, Text))
    assert deepest + 2 < crowded.height


def test_a_block_past_the_edge_is_cut_with_an_arrowhead() -> None:
    strip = day_strip(DAY, blocks=[block(1200, 1500), block(2000, 2100)])

    (booked,) = (op for op in strip.ops if isinstance(op, Rect) and op.fill == "sun")
    (head,) = (op for op in strip.ops if isinstance(op, Polygon))

    assert booked.x + booked.width == pytest.approx(620)
    assert max(x for x, _ in head.points) == pytest.approx(620)


def test_the_window_opens_for_work_past_midnight() -> None:
    assert window_for(OCTOBER) == (360, 1260)
    assert window_for(OCTOBER, blocks=[block(1380, 1530)]) == (360, 1560)
    assert window_for(OCTOBER, blocks=[block(-60, 30)]) == (-60, 1260)


def test_the_window_of_a_white_night_is_the_whole_day() -> None:
    assert window_for([PhaseStart(0, DayPhase.LOW_SUN)]) == (0, 1440)
    assert window_for([PhaseStart(0, DayPhase.NIGHT)]) == (360, 1260)


@pytest.mark.parametrize("phase", list(DayPhase))
def test_a_polar_day_or_night_is_one_phase(phase: DayPhase) -> None:
    day = DayPhases(phases=(PhaseStart(0, phase),))

    strip = day_strip(day)

    assert describe_day(day) == f"{phase.value.capitalize()} throughout."
    assert strip.description.startswith(phase.value.capitalize())


def test_the_description_says_what_the_strip_shows() -> None:
    words = describe_day(
        DAY, blocks=[block(1380, 1530, "Ostrey", held=True)], now_minute=612
    )

    assert words == (
        "Night to 06:10, nautical twilight to 06:50, civil twilight to 07:28,"
        " low sun to 08:40, high sun to 16:52, low sun to 18:07,"
        " civil twilight to 18:44, nautical twilight to 19:25, then night."
        " Held 23:00 to 01:30, Ostrey. It is 10:12."
    )


def test_phases_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="order"):
        DayPhases(phases=OCTOBER[::-1])
    with pytest.raises(ValueError, match="missing"):
        DayPhases(phases=())
    with pytest.raises(ValueError, match="nothing"):
        DayPhases(phases=OCTOBER, first_minute=5, last_minute=5)
    with pytest.raises(ValueError, match="no span"):
        block(5, 5)


def test_phases_change_at_the_twilights_everybody_uses() -> None:
    # Sunrise and sunset at -50', civil twilight to -6, nautical to -12 degrees:
    # The Astronomical Almanac, glossary. The 8 degrees of low sun are our own.
    assert phase_at(8.0) is DayPhase.DAY
    assert phase_at(7.99) is DayPhase.LOW_SUN
    assert phase_at(-50 / 60) is DayPhase.CIVIL
    assert phase_at(-0.83) is DayPhase.LOW_SUN
    assert phase_at(-6.0) is DayPhase.CIVIL
    assert phase_at(-6.01) is DayPhase.NAUTICAL
    assert phase_at(-12.01) is DayPhase.NIGHT


def test_phases_are_read_off_samples_of_altitude() -> None:
    found = phases_from_altitudes(
        minutes=[0, 60, 120, 180], altitudes_deg=[-18, -6, 10, -18]
    )

    assert [start.phase for start in found] == [
        *(DayPhase.NIGHT, DayPhase.NAUTICAL, DayPhase.CIVIL, DayPhase.LOW_SUN),
        *(DayPhase.DAY, DayPhase.LOW_SUN, DayPhase.CIVIL, DayPhase.NAUTICAL),
        DayPhase.NIGHT,
    ]
    assert [start.minute for start in found[:3]] == pytest.approx([0, 30, 60])
    assert found[-1].minute == pytest.approx(120 + 60 * 22 / 28)


def test_no_samples_are_no_day() -> None:
    with pytest.raises(ValueError, match="no samples"):
        phases_from_altitudes(minutes=[], altitudes_deg=[])


@pytest.mark.parametrize(
    ("minute", "shown"),
    [(0, "00:00"), (1500, "01:00"), (-60, "23:00"), (612.4, "10:12")],
)
def test_the_clock_wraps_at_midnight(minute: float, shown: str) -> None:
    assert clock(minute) == shown
