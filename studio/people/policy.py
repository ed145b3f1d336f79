"""Who may do what: one table from action to hats."""

from collections.abc import Iterable
from functools import cache
from typing import Final

from django.db import models


class Hat(models.TextChoices):
    """A part that a person plays in the studio."""

    OWNER = "OWNER", "Owner"
    PLANNER = "PLANNER", "Planner"
    BOOKKEEPER = "BOOKKEEPER", "Bookkeeper"


_OWNER: Final = frozenset({Hat.OWNER})
_PLAN: Final = frozenset({Hat.OWNER, Hat.PLANNER})
_BOOKS: Final = frozenset({Hat.OWNER, Hat.BOOKKEEPER})
_ALL: Final = frozenset(Hat)

POLICY: Final[dict[str, frozenset[Hat]]] = {
    "today.see": _ALL,
    "search.use": _ALL,
    "self.manage": _ALL,
    "studio.set_up": _OWNER,
    "studio.back_up": _OWNER,
    "list.bring_in": _OWNER,
    "people.manage": _OWNER,
    "history.see": _OWNER,
    "mail.see": _ALL,
    "mail.resend": _OWNER,
    "client.see": _ALL,
    "client.edit": _ALL,
    "client.merge": _PLAN,
    "release.see": _PLAN,
    "release.edit": _PLAN,
    "place.see": _PLAN,
    "place.edit": _PLAN,
    "kit.see": _PLAN,
    "kit.edit": _PLAN,
    "job.see": _ALL,
    "job.edit": _PLAN,
    "booking.see": _ALL,
    "booking.edit": _PLAN,
    "booking.invite": _PLAN,
    "answers.edit": _PLAN,
    "slot_day.edit": _PLAN,
    "calendar.own": _ALL,
    "diary.see": _ALL,
    "diary.block": _PLAN,
    "plan.see": _PLAN,
    "plan.edit": _PLAN,
    "light.see": _PLAN,
    "finder.use": _PLAN,
    "location.use": _PLAN,
    "checklist.tick": _PLAN,
    "call_sheet.make": _PLAN,
    "call_sheet.send": _PLAN,
    "letter.word": _OWNER,
    "letter.send": _PLAN,
    "price.see": _ALL,
    "price.edit": _OWNER,
    "quote.see": _ALL,
    "quote.draft": _PLAN,
    "quote.send": _OWNER,
    "quote.record_yes": _OWNER,
    "money.see": _BOOKS,
    "invoice.see": _BOOKS,
    "invoice.draft": _BOOKS,
    "invoice.issue": _BOOKS,
    "invoice.credit": _BOOKS,
    "invoice.send": _BOOKS,
    "payment.record": _BOOKS,
    "voucher.honour": _OWNER,
    "voucher.erase": _OWNER,
    "purchase.see": _BOOKS,
    "purchase.edit": _BOOKS,
    "bank.see": _BOOKS,
    "bank.match": _BOOKS,
    "books.see": _BOOKS,
    "books.close": _BOOKS,
    "costs.see": _OWNER,
}


@cache
def _actions_of(hats: frozenset[Hat]) -> frozenset[str]:
    return frozenset(action for action, may in POLICY.items() if may & hats)


def actions_of(hats: Iterable[Hat]) -> frozenset[str]:
    """Return every action that one of the hats may do."""
    return _actions_of(frozenset(hats))
