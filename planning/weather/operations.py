"""What can be done with weather: note what was read."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from jobs.bookings.models import Booking
from planning.weather.models import WeatherSeen
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def note_weather(
    *, booking: Booking, details: Mapping[str, Any], by: Person, at: datetime
) -> WeatherSeen:
    """Note the weather that somebody read for a session; the latest one counts."""
    seen = WeatherSeen.objects.create(
        booking=booking, read_at=at, read_by=by, **details
    )
    record(booking, "weather noted", by=by, at=at)
    return seen
