"""Saying how long a way takes."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from jobs.places.models import Place
from jobs.ways.models import KnownWay
from studio.history.operations import record
from studio.people.models import Person


@transaction.atomic
def say_way(
    *, here: Place, there: Place, minutes: int | None, by: Person, at: datetime
) -> None:
    """Keep how long the way between two places takes; None: estimate it again.

    Sessions that stand stay as they are; the next one is held against the new figure.
    """
    first, second = sorted([here, there], key=lambda place: place.pk)
    if minutes is None:
        KnownWay.objects.filter(first=first, second=second).delete()
    else:
        KnownWay.objects.update_or_create(
            first=first, second=second, defaults={"minutes": minutes}
        )
    data = {"to": there.pk, "minutes": minutes}
    record(here, "way said", by=by, at=at, data=data)
