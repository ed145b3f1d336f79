"""What the frame of every page needs: the places of the tool, and the studio."""

from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpRequest
from django.urls import reverse

from studio.people.policy import actions_of
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


MENU: Final = (
    ("Quotes", "invoicing:quotes", "quote.see"),
    ("Price list", "invoicing:prices", "price.see"),
    ("Letters", "jobs:letters", "letter.word"),
    ("Settings", "studio:settings", "studio.set_up"),
    ("People", "studio:people", "people.manage"),
    ("Mail", "studio:mail", "mail.see"),
    ("Your calendar", "jobs:calendar", "calendar.own"),
    ("Back up", "studio:backup", "studio.back_up"),
    ("Password", "account_change_password", "self.manage"),
    ("Second factor", "mfa_index", "self.manage"),
    ("Where you are signed in", "usersessions_list", "self.manage"),
)


def page_frame(request: HttpRequest) -> dict[str, Any]:
    """Return the studio's profile, and the places that this person may open."""
    person = getattr(request, "user", None)
    if person is None or not person.is_authenticated:
        return {"studio": StudioProfile.load(), "nav": [], "person_links": []}
    nav = [
        Place(label, reverse(name), request.path.startswith(prefix))
        for label, name, action, prefix in PLACES
        if person.may(action)
    ]
    links = [
        Place(label, reverse(name), request.path == reverse(name))
        for label, name, action in MENU
        if person.may(action)
    ]
    return {
        "studio": StudioProfile.load(),
        "nav": nav,
        "person_links": links,
        "actions": actions_of(person.hats),
    }
