"""From a booking and its worked-out set-ups to what the cautions look at."""

from __future__ import annotations

from jobs.attending.queries import company_of
from jobs.bookings.models import Booking
from jobs.places.models import Place
from planning.light.illuminance import Sky
from planning.shoots.cautions import PlaceFacts, Scene
from planning.shoots.daylight import Daylight
from planning.shoots.planned import PlannedSetUp
from planning.sites.grounds import Ground
from planning.weather.queries import latest_weather


def scene_of(
    booking: Booking, light: Daylight, set_ups: tuple[PlannedSetUp, ...], sky: Sky
) -> Scene:
    """Return all that the rules may look at."""
    return Scene(
        set_ups=set_ups,
        lost=light.lost,
        sunset=light.day.sunset,
        span=(booking.starts_at, booking.ends_at),
        zone=booking.place.zone,
        sky=sky,
        access_from=booking.place.access_from,
        access_until=booking.place.access_until,
        indoors=booking.place.is_room,
        weather=latest_weather(booking),
        company=company_of(booking),
        place=place_facts(booking.place, light.where.ground),
    )


def place_facts(place: Place, ground: str) -> PlaceFacts:
    """Return what is written of a place, and what lies there if somebody said."""
    said = (place.name, place.meeting_point, place.access, place.parking, place.notes)
    return PlaceFacts(
        words=" ".join(said),
        contact_name=place.contact_name,
        ground=Ground(ground) if ground else None,
    )
