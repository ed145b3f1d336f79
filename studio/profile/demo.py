"""The demo's own studio: who runs it, and how it works. All of it is invented."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from django.db import transaction

from studio.history.operations import record
from studio.people.models import Person
from studio.people.passwords import readable_password
from studio.profile.models import DepositKind, StudioProfile

# A stretch of coast that is on no map, where the sun is that of the real north-east.
HOME: Final = (55.39, -1.60)

PEOPLE: Final = (
    ("maren", "Maren Tolvey", "01632 960141", "is_owner"),
    ("jory", "Jory Pask", "01632 960142", "is_planner"),
    ("edda", "Edda Lorne", "01632 960143", "is_bookkeeper"),
)

FACTS: Final[dict[str, Any]] = {
    "trading_name": "Maren Tolvey Portraits",
    "owner_name": "Maren Tolvey",
    "address": "3 Netloft Yard\nWrayhaven ZZ9 3ZZ",
    "country": "GB",
    "phone": "01632 960140",
    "email": "studio@tolvey.example",
    "public_address": "http://127.0.0.1:8000",
    "currency": "GBP",
    "tax_registered": True,
    "distance_rate_minor_hundredths": 4_500,
    "hour_worth_minor": 3_500,
    "tax_number": "GB 000 0000 00",
    "account_name": "Maren Tolvey",
    "sort_code": "00-00-00",
    "account_number": "00001604",
    "time_zone": "Europe/London",
    "home_name": "The studio, Wrayhaven",
    "home_latitude": HOME[0],
    "home_longitude": HOME[1],
    "deposit_kind": DepositKind.PERCENT,
    "deposit_percent": 25,
    "deposit_days": 7,
    "quote_days": 14,
    "payment_days": 14,
    "terms": (
        "The price holds for what the quote lists. Prints and files ordered later "
        "are priced apart.\n"
        "The deposit holds the date and comes off the final invoice. The rest is due "
        "14 days after you have the pictures.\n"
        "You may print and share the pictures for yourselves and your family for as "
        "long as you like. Use for trade or in the press is agreed apart.\n"
        "I keep the finished files for two years. I show none of them to anybody "
        "unless you have said yes to that."
    ),
    "moving_words": (
        "Another date is free once, up to 7 days before. If you cancel, I keep no "
        "more than the session has cost me by then."
    ),
    "weather_words": (
        "We decide together at noon that day: the net loft indoors, or a new date "
        "within six weeks at no charge."
    ),
    "withdrawal_words": (
        "You may withdraw within 14 days of saying yes without giving a reason. If "
        "you ask for a session within those 14 days, you pay for what was done "
        "until you withdrew."
    ),
    "wear_words": (
        "Soft colours close to each other; no large letters or logos.\n"
        "Flat shoes that may get wet and sandy.\n"
        "One layer more than you think: the wind comes off the sea."
    ),
    "bring_words": (
        "A towel and dry socks for each child.\n"
        "A small thing the youngest likes to hold."
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Founded:
    """The demo's studio, its people by sign-in name, and their passwords."""

    profile: StudioProfile
    people: dict[str, Person] = field(default_factory=dict)
    passwords: dict[str, str] = field(default_factory=dict)


@transaction.atomic
def found_studio(*, at: datetime) -> Founded:
    """Set the invented studio up, with an owner, a planner and a bookkeeper."""
    profile = StudioProfile.load()
    for name, value in FACTS.items():
        setattr(profile, name, value)
    profile.set_up_at = at
    profile.save()
    founded = Founded(profile=profile)
    for username, name, phone, hat in PEOPLE:
        password = readable_password()
        founded.passwords[username] = password
        founded.people[username] = Person.objects.create_user(
            username,
            password,
            name=name,
            phone=phone,
            email=f"{username}@tolvey.example",
            **{hat: True},
        )
    record(profile, "set up", by=founded.people["maren"], at=at)
    return founded


def point_demo_at(address: str) -> None:
    """Let the demo's private links open where its pages are served."""
    StudioProfile.objects.filter(is_demo=True).update(public_address=address)
