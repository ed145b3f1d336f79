"""What the bank asks for on Today."""

from __future__ import annotations

from datetime import datetime

from django.urls import reverse

from invoicing.bank.models import BankLine
from studio.panels import TodayItem, on_today
from studio.people.models import Person
from studio.people.policy import Hat


@on_today(action="bank.see", hat=Hat.OWNER)
def questions(person: Person, at: datetime) -> list[TodayItem]:
    """Name the questions of the bookkeeper that wait for an answer."""
    asked = BankLine.objects.asked().select_related("asked_by")
    return [
        TodayItem(
            group="today",
            title=line.question,
            reason=f"{line.asked_by} asks about {line}",
            url=line.get_absolute_url(),
            verb="Answer",
            icon="info",
        )
        for line in asked[:10]
    ]


@on_today(action="bank.match", hat=Hat.BOOKKEEPER)
def open_lines(person: Person, at: datetime) -> list[TodayItem]:
    """Name the lines of the account that nobody has explained."""
    count = BankLine.objects.open().count()
    if not count:
        return []
    return [
        TodayItem(
            group="soon",
            title=f"Explain {count} line{'s' if count != 1 else ''} of the bank",
            reason="Read from the statement, not yet matched",
            url=reverse("invoicing:bank"),
            verb="Look",
            icon="info",
        )
    ]
