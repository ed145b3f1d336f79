"""Everything that can be done to a site."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from jobs.places.models import Place
from planning.sites.models import Site
from planning.sites.skyline import Stretch, write_skyline
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def keep_skyline(
    *,
    place: Place,
    skyline: Sequence[Stretch],
    estimated: bool,
    by: Person,
    at: datetime,
) -> Site:
    """Keep the skyline of a place, judged by eye or measured."""
    site, _ = Site.objects.get_or_create(place=place)
    site.skyline = write_skyline(skyline)
    site.estimated = estimated
    site.save()
    record(site, "skyline kept", by=by, at=at)
    return site
