"""Everything that can be done to a site."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction

from jobs.places.models import Place
from planning.light.air import SUNSET_ALTITUDE_DEG
from planning.light.sun import sun_position
from planning.sites.grounds import REFLECTANCES, Ground
from planning.sites.models import Site, SunMark
from planning.sites.points import SkyPoint, write_profile
from planning.sites.skyline import Stretch, write_skyline
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteDetails:
    """What is typed of a site."""

    skyline: Sequence[Stretch] = ()
    profile: Sequence[SkyPoint] = ()
    estimated: bool = True
    ground: Ground = Ground.GRASS
    ground_reflectance: float = REFLECTANCES[Ground.GRASS]
    declination_deg: float | None = None


@transaction.atomic
def keep_site(*, place: Place, details: SiteDetails, by: Person, at: datetime) -> Site:
    """Keep what shapes light at a place; a variation is dated when it changes."""
    site, _ = Site.objects.get_or_create(place=place)
    site.skyline = write_skyline(details.skyline)
    site.profile = write_profile(details.profile)
    site.estimated = details.estimated
    site.ground = details.ground
    site.ground_reflectance = details.ground_reflectance
    if site.declination_deg != details.declination_deg:
        site.declination_deg = details.declination_deg
        known = details.declination_deg is not None
        site.declination_on = at.astimezone(place.zone).date() if known else None
    site.save()
    record(site, "skyline kept", by=by, at=at)
    return site


class SunIsDownError(DomainError):
    """The sun was below the horizon, so nothing at the place hid it."""


@transaction.atomic
def mark_sun_gone(
    *, place: Place, at: datetime, by: Person, client_key: str = ""
) -> SunMark:
    """Keep where the sun stood when it went behind the skyline of a place.

    The point is exact, and holds on every later day before heights judged by eye near
    it. A second mark within the same minute moves the first; one sent again by its key
    stays as it is. Raises SunIsDownError.
    """
    known = SunMark.objects.filter(place=place, client_key=client_key)
    if client_key and (kept := known.first()) is not None:
        return kept
    sun = sun_position(
        latitude_deg=place.latitude_deg, longitude_deg=place.longitude_deg, at=at
    )
    if sun.altitude_deg <= SUNSET_ALTITUDE_DEG:
        clock = at.astimezone(place.zone)
        raise SunIsDownError(
            f"The sun is below the horizon at {clock:%H:%M}: no skyline hides it."
        )
    minute = at.replace(second=0, microsecond=0)
    later = minute + timedelta(minutes=1)
    SunMark.objects.filter(place=place, seen_at__gte=minute, seen_at__lt=later).delete()
    mark = SunMark.objects.create(
        place=place,
        seen_at=at,
        azimuth_deg=float(sun.azimuth_deg),
        altitude_deg=float(sun.altitude_deg),
        seen_by=by,
        client_key=client_key,
    )
    _keep_seen(place)
    record(place, "sun gone", by=by, at=at, data={"point": str(mark)})
    return mark


@transaction.atomic
def drop_sun_mark(*, mark_id: int, by: Person, at: datetime) -> Place:
    """Take back a mark that was made by mistake; the journal keeps both."""
    mark = SunMark.objects.select_related("place").get(pk=mark_id)
    place = mark.place
    record(place, "sun mark dropped", by=by, at=at, data={"point": str(mark)})
    mark.delete()
    _keep_seen(place)
    return place


def _keep_seen(place: Place) -> None:
    """Keep the points of a place's marks where plans read them."""
    site, _ = Site.objects.get_or_create(place=place)
    marks = SunMark.objects.filter(place=place).order_by("-seen_at", "-pk")
    site.seen = [[one.azimuth_deg, max(one.altitude_deg, 0.0)] for one in marks]
    site.save(update_fields=["seen"])
