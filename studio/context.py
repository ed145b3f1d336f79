"""What the frame of every page needs: the places of the tool, and the studio."""

from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse

from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the tool in the bar."""

    label: str
    url: str
    current: bool


PLACES: Final = (
    ("Today", "studio:today", "today.see", "/today/"),
    ("Diary", "jobs:diary", "diary.see", "/diary/"),
    ("Jobs", "jobs:jobs", "job.see", "/jobs/"),
    ("Clients", "jobs:clients", "client.see", "/clients/"),
    ("Money", "invoicing:money", "money.see", "/money/"),
    ("Kit and places", "jobs:kit", "kit.see", "/kit/"),
)


def page_frame(request: HttpRequest) -> dict[str, Any]:
    """Return the studio's profile, and the places that this person may open."""
    person = getattr(request, "user", None)
    if person is None or not person.is_authenticated:
        return {"studio": StudioProfile.load(), "nav": []}
    nav = []
    for label, name, action, prefix in PLACES:
        if not person.may(action):
            continue
        try:
            nav.append(Place(label, reverse(name), request.path.startswith(prefix)))
        except NoReverseMatch:
            continue
    return {"studio": StudioProfile.load(), "nav": nav}
