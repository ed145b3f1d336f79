"""Trying a list out, and bringing it in: all of its rows or none."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any, Final

from django.db import IntegrityError, transaction
from django.db.models import Model

from studio.errors import DomainError
from studio.history.operations import record
from studio.imports.kinds import Kind
from studio.imports.models import SentList
from studio.imports.rows import Matching, RowError, cells_of, read_list
from studio.people.models import Person
from studio.profile.models import StudioProfile

KEPT_FOR: Final = timedelta(days=1)


class ListGoneError(DomainError):
    """A list was brought in or left meanwhile."""


class BadRowsError(DomainError):
    """A list has rows that cannot be brought in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BadRow:
    """A row that cannot be brought in: its place, its cells, and what is wrong."""

    place: int
    cells: tuple[str, ...]
    faults: tuple[tuple[str, str], ...]


@dataclass(slots=True)
class Outcome:
    """What a list comes to, row by row."""

    added: list[Model] = field(default_factory=list)
    known: list[tuple[int, Model]] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)


def keep_list(
    *, kind: Kind, name: str, content: bytes, by: Person, at: datetime
) -> SentList:
    """Keep a list until it is brought in; forgotten ones go. Raises DomainError."""
    read_list(content)
    SentList.objects.filter(sent_at__lt=at - KEPT_FOR).delete()
    return SentList.objects.create(
        kind=kind.slug, name=name[:200], content=content, sent_by=by, sent_at=at
    )


def leave_list(*, list_id: int) -> None:
    """Forget a list that was sent."""
    SentList.objects.filter(pk=list_id).delete()


@transaction.atomic
def try_out(
    *, sent: SentList, kind: Kind, matching: Matching, by: Person, at: datetime
) -> Outcome:
    """Go through a list as if it were brought in, and take everything back."""
    outcome = _Run(kind=kind, matching=matching, by=by, at=at).through(sent)
    transaction.set_rollback(True)
    return outcome


@transaction.atomic
def bring_in(
    *,
    list_id: int,
    kind: Kind,
    matching: Matching,
    by: Person,
    at: datetime,
    without_bad: bool = False,
) -> Outcome:
    """Bring a list in whole, or without its bad rows where that was asked for.

    Raises ListGoneError, and BadRowsError where rows are bad; then nothing is kept.
    """
    sent = SentList.objects.select_for_update().filter(pk=list_id).first()
    if sent is None:
        raise ListGoneError("This list was brought in already, or left.")
    outcome = _Run(kind=kind, matching=matching, by=by, at=at).through(sent)
    if outcome.bad and not without_bad:
        raise BadRowsError("Rows cannot be brought in, so nothing was.")
    sent.delete()
    record(
        StudioProfile.load(),
        "list brought in",
        by=by,
        at=at,
        data={
            "kind": kind.slug,
            "added": len(outcome.added),
            "known": len(outcome.known),
            "left out": len(outcome.bad),
        },
    )
    return outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """One way through a list, for whom and when."""

    kind: Kind
    matching: Matching
    by: Person
    at: datetime

    def through(self, sent: SentList) -> Outcome:
        """Take every row, and tell what became of it."""
        outcome = Outcome()
        for place, row in enumerate(read_list(bytes(sent.content)).rows, start=1):
            if faults := self._take(row, place, outcome):
                bad = BadRow(place=place, cells=row, faults=tuple(faults))
                outcome.bad.append(bad)
        return outcome

    def _take(
        self, row: tuple[str, ...], place: int, outcome: Outcome
    ) -> list[tuple[str, str]]:
        """Take one row into the outcome; return what is wrong with it instead."""
        try:
            form = self.kind.form(cells_of(self.kind, row, self.matching))
        except RowError as fault:
            return [(_about(fault.label, fault.cell), str(fault))]
        if not form.is_valid():
            return _faults_of(form, self.kind)
        if standing := self.kind.known(form):
            outcome.known.append((place, standing))
            return []
        try:
            with transaction.atomic():
                outcome.added.append(self.kind.add(form, self.by, self.at))
        except DomainError as refusal:
            return [("", str(refusal))]
        except IntegrityError:
            return [("", "The book does not take this row; look at its figures.")]
        return []


def _faults_of(form: Any, kind: Kind) -> list[tuple[str, str]]:
    labels = {column.name: column.label for column in kind.columns}
    return [
        (_about(labels.get(name, ""), str(form.data.get(name, ""))), str(fault))
        for name, faults in form.errors.items()
        for fault in faults
    ]


def _about(label: str, written: str) -> str:
    return f"{label} “{written[:60]}”" if label and written else label
