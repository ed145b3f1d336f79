"""Everything that can be done to the studio's own facts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile


@transaction.atomic
def change_profile(
    *, details: Mapping[str, Any], by: Person, at: datetime
) -> StudioProfile:
    """Change facts of the studio; papers that went out keep what they said."""
    profile = _locked()
    changed = [
        name for name, value in details.items() if getattr(profile, name) != value
    ]
    if not changed:
        return profile
    for name in changed:
        setattr(profile, name, details[name])
    profile.save(update_fields=changed)
    record(profile, "changed", by=by, at=at, data={"fields": sorted(changed)})
    return profile


@transaction.atomic
def finish_set_up(*, by: Person, at: datetime) -> StudioProfile:
    """Note that the studio is set up as far as its owner wants it; once."""
    profile = _locked()
    if profile.set_up_at is None:
        profile.set_up_at = at
        profile.save(update_fields=["set_up_at"])
        record(profile, "set up", by=by, at=at)
    return profile


def _locked() -> StudioProfile:
    profile = StudioProfile.load()
    return StudioProfile.objects.select_for_update().get(pk=profile.pk)
