"""Rules about weather as it was read: wind, rain, sun on skin, heat, cold.

Nothing here is a limit to rely on: local warnings and the makers' own limits hold.
"""

from __future__ import annotations

from collections.abc import Iterator

from planning.shoots.cautions.rule import COMMON, Scene, rule
from planning.shoots.planned import Caution, Weight
from planning.weather.scales import beaufort, uv_words, wind_words

STANDS_FALL_FORCE = 5  # common practice, no source
STANDS_SWAY_FORCE = 4
UV_PROTECT_FROM = 3
UV_AVOID_FROM = 8
HOT_C = 30.0  # common practice, no source
COLD_C = 5.0  # common practice, no source


@rule("wind", "Beaufort scale of the WMO; which force matters: common practice")
def wind_and_stands(scene: Scene) -> Iterator[Caution]:
    """Warn of wind that takes stands and umbrellas with it."""
    seen = scene.weather_outdoors
    speed = seen.strongest_ms if seen else None
    if seen is None or speed is None or beaufort(speed) < STANDS_SWAY_FORCE:
        return
    what = "Wind" if speed == seen.wind_ms else "Gusts"
    strong = beaufort(speed) >= STANDS_FALL_FORCE
    yield Caution(
        title=f"{what} of {wind_words(speed)}",
        sentence=(
            "A stand with a modifier can fall on somebody. Leave it down or let a "
            "person hold it; follow local warnings."
            if strong
            else "Weigh every stand down and let somebody stand by the umbrella."
        ),
        weight=Weight.RISK if strong else Weight.NOTE,
    )


@rule("rain", "common practice; mains wiring by local rules")
def rain_and_mains(scene: Scene) -> Iterator[Caution]:
    """Warn of electricity outdoors in rain."""
    seen = scene.weather_outdoors
    if seen is None or not seen.rain_mm_h:
        return
    yield Caution(
        title="Rain is expected at the session",
        sentence=(
            "Keep flash and batteries dry. Mains outdoors only with gear made for wet "
            "places and behind an RCD, or not at all; ask an electrician."
        ),
    )


@rule("uv", "Global Solar UV Index, WHO 2002, from memory")
def sun_on_skin(scene: Scene) -> Iterator[Caution]:
    """Tell of a UV index at which skin and eyes want protection."""
    seen = scene.weather_outdoors
    if seen is None or seen.uv_index is None or round(seen.uv_index) < UV_PROTECT_FROM:
        return
    high = round(seen.uv_index) >= UV_AVOID_FROM
    yield Caution(
        title=f"UV index {seen.uv_index:g}, {uv_words(seen.uv_index)}",
        sentence=(
            "Keep out of the sun around noon; shade, hats and sunscreen, babies above "
            "all."
            if high
            else "Shade between frames, hats and sunscreen for all."
        ),
        weight=Weight.RISK if high else Weight.NOTE,
    )


@rule("heat", COMMON)
def heat(scene: Scene) -> Iterator[Caution]:
    """Warn of heat for people and kit."""
    seen = scene.weather_outdoors
    if seen is None or seen.temperature_c is None or seen.temperature_c < HOT_C:
        return
    yield Caution(
        title=f"Heat of {seen.temperature_c:.0f} °C",
        sentence=(
            "Water, shade and short takes; the old, the small and dogs first. Damp air "
            "makes it worse. Leave nobody and no battery in a parked car."
        ),
    )


@rule("cold", COMMON)
def cold(scene: Scene) -> Iterator[Caution]:
    """Note what cold does to batteries and hands."""
    seen = scene.weather_outdoors
    if seen is None or seen.temperature_c is None or seen.temperature_c > COLD_C:
        return
    yield Caution(
        title=f"Cold of {seen.temperature_c:.0f} °C",
        sentence=(
            "Batteries give less: carry spares close to the body. Warm sitters up "
            "between takes; bag the camera before it comes back indoors."
        ),
        weight=Weight.NOTE,
    )
