"""The letters of a session: when each is due, and how it is worded at first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time, timedelta
from typing import Final

from django.db import models


class LetterKind(models.TextChoices):
    """Which letter, in the order in which they go out."""

    CONFIRMED = "CONFIRMED", "Confirmed"
    WEEK_BEFORE = "WEEK_BEFORE", "A week before"
    DAY_BEFORE = "DAY_BEFORE", "The day before"
    THANKS = "THANKS", "Thank you"
    CHOOSING = "CHOOSING", "How to choose"


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """When a letter is due, in days from the session, and its first words."""

    days: int
    subject: str
    body: str


DUE_AT: Final = time(9, 0)
"""By the clock of the place."""
HOLDS: Final = timedelta(days=2)
"""How long after its time a letter still makes sense."""

USUAL: Final = {
    LetterKind.CONFIRMED: Usual(
        days=0,
        subject="{{session}} on {{day}} is fixed",
        body=(
            "Dear {{name}},\n\n{{session}} is fixed: {{day}}, {{time}}, at {{place}}"
            " ({{address}}).\n\nIf anything changes for you, tell me as early as you "
            "can.\n\n{{studio}}\n"
        ),
    ),
    LetterKind.WEEK_BEFORE: Usual(
        days=-7,
        subject="Next week: {{session}}",
        body=(
            "Dear {{name}},\n\nin a week it is time: {{day}}, {{time}}, at "
            "{{place}}.\n\nWhat to wear: {{wear}}\n\nWhat to bring: {{bring}}\n\n"
            "{{studio}}\n"
        ),
    ),
    LetterKind.DAY_BEFORE: Usual(
        days=-1,
        subject="Tomorrow: {{session}}",
        body=(
            "Dear {{name}},\n\nsee you tomorrow at {{start}}. We meet here: "
            "{{meeting}}.\n\nIf you are late or lost: {{phone}}.\n\n{{studio}}\n"
        ),
    ),
    LetterKind.THANKS: Usual(
        days=1,
        subject="Thank you",
        body=(
            "Dear {{name}},\n\nthank you for {{session}}. The pictures are with you by "
            "{{pictures}}.\n\n{{studio}}\n"
        ),
    ),
    LetterKind.CHOOSING: Usual(
        days=3,
        subject="How to choose your pictures",
        body=(
            "Dear {{name}},\n\nwhen the pictures are here, look at them twice: once "
            "quickly for what speaks to you, and once the next day. Write down the "
            "numbers, and we go through them together.\n\n{{studio}}\n"
        ),
    ),
}
FACTS: Final = {
    "name": "whom the letter greets",
    "session": "the job’s title",
    "day": "Friday 4 December 2026",
    "time": "13:30–15:00",
    "start": "13:30",
    "place": "the place’s name",
    "address": "the place’s address",
    "meeting": "where to meet; the address where none is set",
    "wear": "your usual words on clothes",
    "bring": "your usual words on what to bring",
    "pictures": "the day by which pictures are promised",
    "phone": "the studio’s telephone",
    "studio": "the studio’s name",
}
