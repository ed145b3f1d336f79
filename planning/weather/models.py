"""Weather as seen: what somebody read for a session, where, and when."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.bookings.models import Booking
from planning.shoots.choices import SkyWord
from planning.weather.scales import sky_of


class WeatherSeen(models.Model):
    """One reading of the weather for a session; a later one replaces none.

    What was not read stays empty. Winds are in m/s, rain in mm an hour.
    """

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="weather_seen")
    read_at = models.DateTimeField()
    read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    read_in = models.CharField(max_length=160)
    for_at = models.DateTimeField()
    cloud_oktas = models.PositiveSmallIntegerField(null=True, blank=True)
    wind_ms = models.FloatField(null=True, blank=True)
    gust_ms = models.FloatField(null=True, blank=True)
    rain_mm_h = models.FloatField(null=True, blank=True)
    temperature_c = models.FloatField(null=True, blank=True)
    uv_index = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["-read_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="weather_seen_cloud_in_eighths",
                condition=Q(cloud_oktas__isnull=True) | Q(cloud_oktas__lte=8),
            ),
        ]

    def __str__(self) -> str:
        return f"Weather for booking {self.booking_id}, read in {self.read_in}"

    @property
    def sky(self) -> SkyWord | None:
        """The sky that its cloud speaks for."""
        return None if self.cloud_oktas is None else sky_of(self.cloud_oktas)

    @property
    def strongest_ms(self) -> float | None:
        """The strongest wind that was read, gusts among it."""
        winds = [one for one in (self.wind_ms, self.gust_ms) if one is not None]
        return max(winds, default=None)
