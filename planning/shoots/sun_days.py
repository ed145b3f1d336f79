"""The sun's day at a place in words: when it comes, what it passes, when it goes."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from planning.shoots.cautions import lost_words
from planning.shoots.daylight import Daylight, Lost
from planning.shoots.passages import Edge, Gap


def sun_day_words(light: Daylight) -> str:
    """Say when the sun reaches a place that day and when it does not."""
    said = list(_sentences(light))
    return " ".join(said) or "The sun does not set that day, or does not rise."


def _sentences(light: Daylight) -> Iterator[str]:
    zone = light.where.zone
    if came := light.arrives:
        over = f" from behind {came.behind}" if came.behind else ""
        yield f"The sun comes{over} {_edge(came.edge, zone)}."
    for gap in light.gaps:
        yield _gap(gap, zone)
    if light.lost:
        behind = f" behind {light.lost.behind}" if light.lost.behind else ""
        yield f"It is lost{behind} {lost_words(light.lost, zone)}."


def _gap(gap: Gap, zone: ZoneInfo) -> str:
    behind = gap.behind or "the skyline"
    if not gap.is_certain:
        whole = Edge(earliest_at=gap.goes.earliest_at, latest_at=gap.comes.latest_at)
        return f"It may pass behind {behind} {_edge(whole, zone)}."
    goes, comes = _edge(gap.goes, zone), _edge(gap.comes, zone)
    return f"It goes behind {behind} {goes} and is back {comes}."


def _edge(edge: Edge, zone: ZoneInfo) -> str:
    """Return an edge in the words that are used for the sun's leaving."""
    earliest = edge.latest_at if edge.is_sharp else edge.earliest_at
    span = Lost(
        earliest_at=earliest, latest_at=edge.latest_at, behind="", estimated=False
    )
    return lost_words(span, zone)
