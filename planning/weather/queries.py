"""Weather as pages and rules ask for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models import Prefetch, prefetch_related_objects

from jobs.bookings.models import Booking
from planning.shoots.choices import SkyWord
from planning.weather.models import WeatherSeen
from planning.weather.scales import beaufort, uv_words
from studio.timespan import clock_words


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWeather:
    """The latest reading in words, and the sky that it speaks for."""

    seen: WeatherSeen
    facts: tuple[tuple[str, str], ...]
    sky: SkyWord | None
    for_clock: str


def latest_weather(booking: Booking) -> WeatherSeen | None:
    """Return the weather that was read last for a session; one booking asks once."""
    readings = Prefetch("weather_seen", WeatherSeen.objects.select_related("read_by"))
    prefetch_related_objects([booking], readings)
    return next(iter(booking.weather_seen.all()), None)


def shown_weather(booking: Booking) -> ShownWeather | None:
    """Return the latest reading of a session as its plan shows it."""
    seen = latest_weather(booking)
    if seen is None:
        return None
    return ShownWeather(
        seen=seen,
        facts=tuple(_facts(seen)),
        sky=seen.sky,
        for_clock=clock_words(seen.for_at.astimezone(booking.place.zone)),
    )


def _facts(seen: WeatherSeen) -> Iterator[tuple[str, str]]:
    if seen.cloud_oktas is not None:
        yield "Cloud", f"{seen.cloud_oktas}/8"
    if seen.wind_ms is not None:
        yield "Wind", f"{seen.wind_ms:.0f} m/s, force {beaufort(seen.wind_ms)}"
    if seen.gust_ms is not None:
        yield "Gusts", f"{seen.gust_ms:.0f} m/s"
    if seen.rain_mm_h is not None:
        yield "Rain", f"{seen.rain_mm_h:g} mm an hour"
    if seen.temperature_c is not None:
        yield "Temperature", f"{seen.temperature_c:g} °C"
    if seen.uv_index is not None:
        yield "UV index", f"{seen.uv_index:g}, {uv_words(seen.uv_index)}"
