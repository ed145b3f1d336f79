"""Everything that can be done to a place."""

from dataclasses import dataclass
from datetime import datetime, time

from django.db import transaction

from jobs.places.models import Place
from jobs.places.zones import time_zone_at
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceDetails:
    """What is known of a place."""

    name: str
    latitude_deg: float
    longitude_deg: float
    address: str = ""
    is_room: bool = False
    meeting_point: str = ""
    access: str = ""
    access_from: time | None = None
    access_until: time | None = None
    parking: str = ""
    rain_plan: str = ""
    power: str = ""
    contact_name: str = ""
    contact_phone: str = ""
    notes: str = ""


@transaction.atomic
def add_place(*, details: PlaceDetails, by: Person, at: datetime) -> Place:
    """Take a place into the book; its clock follows from its coordinates."""
    place = Place()
    _apply(place, details)
    place.save()
    record(place, "added", by=by, at=at)
    return place


@transaction.atomic
def change_place(
    *, place_id: int, details: PlaceDetails, by: Person, at: datetime
) -> Place:
    """Change what is known of a place. Sessions keep their moments in time."""
    place = Place.objects.select_for_update().get(pk=place_id)
    _apply(place, details)
    place.save()
    record(place, "changed", by=by, at=at)
    return place


def _apply(place: Place, details: PlaceDetails) -> None:
    for name in PlaceDetails.__dataclass_fields__:
        setattr(place, name, getattr(details, name))
    place.time_zone = time_zone_at(details.latitude_deg, details.longitude_deg)
