"""What stands of who is coming: for forms, for plans, and the groups to photograph."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from django.db import models
from django.db.models import prefetch_related_objects

from jobs.attending.answers import Snapshot, Values
from jobs.attending.company import Comer, Company, Group
from jobs.attending.models import AgeUnit, GroupShot, Need, SessionAnswers
from jobs.attending.naps import read_naps
from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.wanted import guests_of
from studio.links.models import LinkPurpose, PrivateLink

WHO_COMES: Final = (Part.CLIENT, Part.SITTER)
NEED_FIELDS: Final = (
    "household",
    "age",
    "age_unit",
    "naps",
    "wears_glasses",
    "uses_wheelchair",
    "flash_sensitive",
    "not_shown",
)
SESSION_FIELDS: Final = ("dog_comes", "guardian_name")


def standing(booking: Booking) -> Snapshot:
    """Return what stands of a session's answers now, each person's by their row."""
    answers = SessionAnswers.objects.filter(booking=booking).first()
    answers = answers or SessionAnswers(booking=booking)
    return Snapshot(
        session={name: getattr(answers, name) for name in SESSION_FIELDS},
        people={one.pk: _values(one) for one in _comers().filter(booking=booking)},
    )


def company_of(booking: Booking) -> Company:
    """Return who is coming to a session; one booking asks once."""
    prefetch_related_objects([booking], "answers")
    people = [one for one in guests_of(booking) if one.part in WHO_COMES]
    answers = getattr(booking, "answers", None) or SessionAnswers(booking=booking)
    return Company(
        people=tuple(_comer(one) for one in people),
        dog_comes=answers.dog_comes,
        guardian_name=answers.guardian_name,
    )


def groups_of(booking: Booking, company: Company | None = None) -> tuple[Group, ...]:
    """Return the groups to photograph, in their order."""
    company = company_of(booking) if company is None else company
    known = {one.pk: one for one in company.people}
    rows = GroupShot.objects.filter(booking=booking).prefetch_related("members")
    return tuple(
        Group(
            pk=row.pk,
            name=row.name,
            members=tuple(
                known[one.pk] for one in row.members.all() if one.pk in known
            ),
        )
        for row in rows
    )


def live_page(booking: Booking, *, at: datetime) -> PrivateLink | None:
    """Return the private page of a session that can be opened, the newest."""
    links = PrivateLink.objects.of(LinkPurpose.SESSION, booking.pk)
    return links.live(at=at).order_by("-pk").first()


def age_words(age: int | None, unit: str) -> str:
    """Return an age as one says it: 8 months, 1 year, 5 years."""
    if age is None:
        return ""
    word = AgeUnit(unit).label
    return f"{age} {word[:-1] if age == 1 else word}"


def _comers() -> models.QuerySet[Attendee]:
    return Attendee.objects.filter(part__in=WHO_COMES).select_related("need")


def need_of(attendee: Attendee) -> Need:
    """Return what somebody told, or an empty row that is not kept yet."""
    return getattr(attendee, "need", None) or Need(attendee=attendee)


def _values(one: Attendee) -> Values:
    need = need_of(one)
    values: dict[str, Any] = {name: getattr(need, name) for name in NEED_FIELDS}
    return {"name": one.name, **values}


def _comer(one: Attendee) -> Comer:
    need = need_of(one)
    months = need.age
    if months is not None and need.age_unit == AgeUnit.YEARS:
        months *= 12
    return Comer(
        pk=one.pk,
        name=one.name,
        is_client=one.part == Part.CLIENT,
        household=need.household,
        age_months=months,
        age_words=age_words(need.age, need.age_unit),
        naps=read_naps(need.naps),
        wears_glasses=need.wears_glasses,
        uses_wheelchair=need.uses_wheelchair,
        flash_sensitive=need.flash_sensitive,
        not_shown=need.not_shown,
    )
