"""Closing a period, and refusing what is dated into a closed one."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any, Final

from django.db import transaction

from invoicing.periods.calendar import Span
from invoicing.periods.models import ClosedPeriod
from studio.errors import DomainError
from studio.history.operations import record, take_chain
from studio.people.models import Person

BOOKS: Final = "books"


class BooksDayError(DomainError):
    """Something of the books is given a day that it cannot have."""


class ClosedPeriodError(BooksDayError):
    """Something is dated into a period that is closed."""


class ClosingError(DomainError):
    """A period cannot be closed."""


def hold_books() -> None:
    """Let nobody else write to the books until the transaction ends."""
    take_chain(BOOKS)


def closed_to() -> date | None:
    """Return the last day of the last closed period."""
    ends = ClosedPeriod.objects.order_by("-ends_on").values_list("ends_on", flat=True)
    return ends.first()


def closed_within(span: Span) -> list[ClosedPeriod]:
    """Return the closed periods that share a day with a span, the latest first."""
    shared = ClosedPeriod.objects.filter(
        starts_on__lte=span.last, ends_on__gte=span.first
    )
    return list(shared.order_by("-starts_on"))


def refuse_closed(on: date, *, what: str) -> None:
    """Refuse a date in or before a closed period. Raises ClosedPeriodError.

    Call it inside the transaction that writes, after `hold_books`.
    """
    last = closed_to()
    if last and on <= last:
        raise ClosedPeriodError(
            f"The books are closed up to {last.day} {last:%B %Y}, and {what} on "
            f"{on.day} {on:%B %Y} would change them. Give a later day and name the "
            "real one in the note, or ask whoever files your tax."
        )


@transaction.atomic
def keep_closed(
    *, span: Span, figures: Mapping[str, Any], by: Person, at: datetime
) -> ClosedPeriod:
    """Close a period with its figures. Raises ClosingError."""
    if ClosedPeriod.objects.filter(starts_on=span.first, ends_on=span.last).exists():
        raise ClosingError(f"{span.name} is closed already.")
    if closed_within(span):
        raise ClosingError(f"Part of {span.name} is closed already.")
    closed = ClosedPeriod.objects.create(
        starts_on=span.first,
        ends_on=span.last,
        figures=dict(figures),
        figures_hash=hash_of(figures),
        closed_at=at,
        closed_by=by,
    )
    record(closed, "closed", by=by, at=at, data={"to": span.last.isoformat()})
    return closed


def hash_of(figures: Mapping[str, Any]) -> str:
    """Return the SHA-256 of figures, written the same way every time."""
    written = json.dumps(figures, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()
