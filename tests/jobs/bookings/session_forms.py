"""What is typed into the form of a session, and who is taken when."""

from datetime import UTC, date, datetime
from typing import Any

from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking
from jobs.jobs.models import Job
from jobs.places.models import Place
from planning.light.almanac import light_day
from studio.people.models import Person
from tests.make import (
    NOON,
    make_booking,
)

LONG = "Großes Haus Ωμέγα Север " * 12 + "am Ende."


TROMSOE = (69.65, 18.96)


def typed(at: Place | None = None, **answers: Any) -> dict[str, Any]:
    usual = {
        "place": str(at.pk) if at else "new",
        "day": "2026-10-14",
        "starts": "15:00",
        "ends": "18:45",
        "setting_up_minutes": "30",
    }
    return usual | answers


def take(*people: Person, **wanted: Any) -> Booking:
    """Confirm a session from 16:00 to 18:00 on the day that is typed."""
    start = datetime(2026, 10, 14, 15, tzinfo=UTC)
    taken = make_booking(people=people, starts_at=start, **wanted)
    return confirm_booking(booking_id=taken.pk, by=taken.job.owner, at=NOON)


def sun_on(place: Place, on: date) -> str:
    """Say what the almanac's core, checked on its own, finds for a day."""
    day = light_day(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        on=on,
        tz=place.zone,
    )
    assert day.sunrise
    assert day.sunset
    rise, fall = (at.astimezone(place.zone) for at in (day.sunrise, day.sunset))
    return f"Sunrise {rise:%H:%M}, sunset {fall:%H:%M}"


def url(job: Job, rest: str = "") -> str:
    return f"/jobs/{job.pk}/session/{rest}"


def echo(browser: Browser, job: Job, answers: dict[str, Any]) -> str:
    return browser.get(url(job, "echo/"), answers).content.decode()
