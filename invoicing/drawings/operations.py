"""Recording what the owner took out or put in, and taking that back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from invoicing.bank.models import BankLine
from invoicing.drawings.models import MovedBy, OwnerMove
from invoicing.periods.operations import hold_books, refuse_closed
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

WHAT = "what the owner moved"


class DrawingError(DomainError):
    """Money of the owner cannot be recorded or taken back so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What moved; above zero into the business. A form sent twice has one key."""

    amount_minor: int
    currency: str
    moved_on: date
    moved_by: str = MovedBy.BANK
    note: str = ""
    form_key: str


@transaction.atomic
def record_move(
    *, moved: Moved, by: Person, at: datetime, line: BankLine | None = None
) -> OwnerMove:
    """Record what the owner took out or put in. Raises ClosedPeriodError."""
    if before := OwnerMove.objects.filter(form_key=moved.form_key).first():
        return before
    hold_books()
    refuse_closed(moved.moved_on, what=WHAT)
    move = OwnerMove.objects.create(
        moved_on=moved.moved_on,
        amount_minor=moved.amount_minor,
        currency=moved.currency,
        moved_by=moved.moved_by,
        note=moved.note.strip()[:200],
        bank_line=line,
        recorded_at=at,
        recorded_by=by,
        form_key=moved.form_key,
    )
    record(move, "recorded", by=by, at=at, data={"amount_minor": move.amount_minor})
    return move


@transaction.atomic
def move_by_line(*, line_id: int, note: str, by: Person, at: datetime) -> OwnerMove:
    """Take a line of the bank as the owner's own money, in or out.

    Raises DrawingError, ClosedPeriodError.
    """
    line = BankLine.objects.select_for_update().get(pk=line_id)
    if not line.is_open:
        raise DrawingError("Somebody has said already what this line is.")
    past = OwnerMove.objects.filter(form_key__startswith=f"line-{line.pk}-").count()
    moved = Moved(
        amount_minor=line.amount_minor,
        currency=line.currency,
        moved_on=line.booked_on,
        note=note or line.text or line.party,
        form_key=f"line-{line.pk}-{past + 1}",
    )
    move = record_move(moved=moved, by=by, at=at, line=line)
    record(line, "taken as the owner's", by=by, at=at)
    return move


@transaction.atomic
def drop_move(*, move_id: int, because: str, by: Person, at: datetime) -> OwnerMove:
    """Take back what was recorded wrongly; its line of the bank is open again.

    Raises DrawingError, ClosedPeriodError.
    """
    move = OwnerMove.objects.select_for_update().get(pk=move_id)
    hold_books()
    if move.dropped_at:
        raise DrawingError("This was taken back before.")
    if not because.strip():
        raise DrawingError("Say what was wrong with it.")
    refuse_closed(move.moved_on, what=WHAT)
    move.bank_line = None
    move.dropped_at, move.dropped_because = at, because.strip()
    move.save(update_fields=["bank_line", "dropped_at", "dropped_because"])
    record(move, "taken back", by=by, at=at)
    return move
