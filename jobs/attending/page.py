"""The questions of a session on a page: as they stand, as typed, beside what changed.

What the page was shown is posted back in `base`, so that the answers of two who write
at once are told apart field by field.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from jobs.attending.answers import ADDED, Draft, Meanwhile, Snapshot, Values
from jobs.attending.forms import PersonForm, PersonLines, SessionAnswersForm
from jobs.attending.operations import MeanwhileError, keep_answers
from jobs.attending.queries import standing
from jobs.bookings.models import Booking, Part
from studio.errors import DomainError
from studio.forms import more_lines
from studio.people.models import Person

LINES: Final = "who"
Posted = Mapping[str, Any]


class AnswersPage:
    """A session's questions, and who is coming, one set of boxes each."""

    def __init__(self, booking: Booking, posted: Posted | None) -> None:
        self.booking = booking
        self.refusal = ""
        self.adding = posted is not None and "add_line" in posted
        self.base = standing(booking)
        self.form = SessionAnswersForm(initial=dict(self.base.session))
        self.lines = PersonLines(initial=_first(self.base), prefix=LINES)
        if posted is not None:
            self.base = read_base(str(posted.get("base", "")), self.base)
            self._bind(more_lines(posted, prefix=LINES) if self.adding else posted)

    @property
    def base_words(self) -> str:
        """What the page shows, to be posted back with what is typed."""
        people = {str(row): dict(values) for row, values in self.base.people.items()}
        return json.dumps({"session": dict(self.base.session), "people": people})

    @property
    def fixed_rows(self) -> frozenset[int]:
        """The rows that cannot be taken off the list here: the client's own."""
        clients = self.booking.attendees.filter(part=Part.CLIENT)
        return frozenset(clients.values_list("pk", flat=True))

    @property
    def people(self) -> list[tuple[PersonForm, bool]]:
        """Each person's boxes, and whether they can be taken off the list."""
        fixed = self.fixed_rows
        return [(form, _row(form["row"].value()) not in fixed) for form in self.lines]

    def keep(self, *, by: Person | None, at: datetime) -> bool:
        """Keep what was typed; otherwise the page says what is in the way."""
        if self.adding or not self.form.is_bound:
            return False
        if not all([self.form.is_valid(), self.lines.is_valid()]):
            return False
        try:
            keep_answers(
                booking_id=self.booking.pk,
                base=self.base,
                draft=self._draft(),
                by=by,
                at=at,
            )
        except MeanwhileError as refusal:
            self._set_beside(refusal)
        except DomainError as refusal:
            self.refusal = str(refusal)
        else:
            return True
        return False

    def _bind(self, posted: Posted) -> None:
        self.posted = {key: posted[key] for key in posted}
        self.form = SessionAnswersForm(self.posted)
        self.lines = PersonLines(self.posted, prefix=LINES)

    def _draft(self) -> Draft:
        people, new, removed = {}, [], set()
        for form in self.lines.forms:
            if not form.cleaned_data.get("name"):
                continue
            row, goes = form.cleaned_data["row"], form.cleaned_data.get("DELETE")
            if row is None:
                new.extend([] if goes else [form.values()])
                continue
            people[row] = form.values()
            if goes:
                removed.add(row)
        return Draft(
            session=self.form.values(),
            people=people,
            removed=frozenset(removed),
            new=tuple(new),
        )

    def _set_beside(self, refusal: MeanwhileError) -> None:
        """Show what was typed with what stands; the next save is meant for that."""
        numbers = self._numbers()
        posted = dict(self.posted)
        for change in refusal.changes:
            _put(posted, self._box(change, numbers), change.shown)
            if change.row is not None and change.row not in refusal.stands.people:
                posted.pop(f"{LINES}-{numbers[change.row]}-row", None)
        added = [row for row in refusal.stands.people if row not in numbers]
        self._append(posted, {row: refusal.stands.people[row] for row in added})
        self.refusal, self.base = str(refusal), refusal.stands
        self._bind(posted)
        self._say(refusal.changes, numbers, added)

    def _numbers(self) -> dict[int, int]:
        """Return at which place of the list each row stands."""
        rows = (form.cleaned_data.get("row") for form in self.lines.forms)
        return {row: number for number, row in enumerate(rows) if row is not None}

    @staticmethod
    def _box(change: Meanwhile, numbers: Mapping[int, int]) -> str:
        if change.row is None:
            return change.name
        return f"{LINES}-{numbers[change.row]}-{change.name}"

    def _append(self, posted: dict[str, Any], people: Mapping[int, Values]) -> None:
        total = len(self.lines.forms)
        for number, (row, values) in enumerate(people.items(), start=total):
            posted[f"{LINES}-{number}-row"] = str(row)
            for name, value in values.items():
                _put(posted, f"{LINES}-{number}-{name}", value)
        posted[f"{LINES}-TOTAL_FORMS"] = str(total + len(people))

    def _say(
        self,
        changes: tuple[Meanwhile, ...],
        numbers: Mapping[int, int],
        added: list[int],
    ) -> None:
        self.form.is_valid()
        self.lines.is_valid()
        for change in changes:
            form = self.form
            if change.row is not None:
                form = self.lines.forms[numbers[change.row]]
            form.add_error(change.name, change.sentence)
        for form in self.lines.forms[len(self.lines.forms) - len(added) :]:
            form.add_error("name", ADDED)


def read_base(text: str, stands: Snapshot) -> Snapshot:
    """Return what a page was shown; nothing where that cannot be read.

    Only fields that are asked for are taken over, so that odd ones do no harm.
    """
    try:
        given = json.loads(text)
        session, people = dict(given["session"]), dict(given["people"])
        rows = {int(row): dict(values) for row, values in people.items()}
    except (ValueError, TypeError, KeyError, RecursionError):
        return Snapshot(session=dict.fromkeys(stands.session))
    return Snapshot(session=session, people=rows)


def _first(stands: Snapshot) -> list[dict[str, Any]]:
    return [{"row": row, **values} for row, values in stands.people.items()]


def _row(value: Any) -> int | None:
    text = str(value or "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 18 else None


def _put(posted: dict[str, Any], box: str, value: Any) -> None:
    """Fill a box of a post; a tick that is off is not posted at all."""
    posted.pop(box, None)
    if value not in (None, False):
        posted[box] = "on" if value is True else str(value)
