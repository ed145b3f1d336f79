"""Letting people in, giving them hats, and closing the door behind them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from allauth.usersessions.models import UserSession
from django.db import transaction

from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.people.passwords import readable_password
from studio.people.policy import Hat

PLACEHOLDER: Final = "Owner"


class LastOwnerError(DomainError):
    """The studio would be left without anybody who may do everything."""


class TakenNameError(DomainError):
    """Somebody signs in by this name already."""


class OwnPasswordError(DomainError):
    """People change their own password where they know the old one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonDetails:
    """Who somebody is, and which hats they wear."""

    name: str
    username: str
    hats: Collection[Hat]
    email: str = ""
    phone: str = ""


@dataclass(frozen=True, slots=True)
class Admitted:
    """Somebody with a new password, which is shown once and kept nowhere."""

    person: Person
    password: str


@transaction.atomic
def add_person(*, details: PersonDetails, by: Person, at: datetime) -> Admitted:
    """Let somebody in, by a random password. Raises TakenNameError."""
    _refuse_taken(details.username)
    password = readable_password()
    person = Person(username=Person.objects.model.normalize_username(details.username))
    _apply(person, details)
    person.set_password(password)
    person.save()
    record(person, "added", by=by, at=at, data={"hats": _words(details.hats)})
    return Admitted(person, password)


@transaction.atomic
def change_person(
    *, person_id: int, details: PersonDetails, by: Person, at: datetime
) -> Person:
    """Change who somebody is and which hats they wear.

    Raises LastOwnerError, TakenNameError.
    """
    person = _locked(person_id)
    if details.username != person.username:
        _refuse_taken(details.username, but=person)
    if Hat.OWNER not in details.hats:
        _refuse_last_owner(person)
    _apply(person, details)
    person.username = Person.objects.model.normalize_username(details.username)
    person.save()
    record(person, "changed", by=by, at=at, data={"hats": _words(details.hats)})
    return person


@transaction.atomic
def close_person(*, person_id: int, by: Person, at: datetime) -> Person:
    """Let somebody in no more, from this moment on; what they did stays theirs.

    Raises LastOwnerError.
    """
    person = _locked(person_id)
    _refuse_last_owner(person)
    person.is_active = False
    person.save(update_fields=["is_active"])
    end_sessions(person)
    record(person, "closed", by=by, at=at)
    return person


@transaction.atomic
def reopen_person(*, person_id: int, by: Person, at: datetime) -> Person:
    """Let somebody in again, by their old password."""
    person = _locked(person_id)
    person.is_active = True
    person.save(update_fields=["is_active"])
    record(person, "reopened", by=by, at=at)
    return person


@transaction.atomic
def give_password(*, person_id: int, by: Person, at: datetime) -> Admitted:
    """Give somebody a new random password; where they are signed in they are out.

    Raises OwnPasswordError.
    """
    person = _locked(person_id)
    if person.pk == by.pk:
        raise OwnPasswordError("Change your own password under “Password”.")
    password = readable_password()
    person.set_password(password)
    person.save(update_fields=["password"])
    end_sessions(person)
    record(person, "given a password", by=by, at=at)
    return Admitted(person, password)


@transaction.atomic
def take_name(*, person_id: int, name: str, at: datetime) -> Person:
    """Give the owner that the first start made their own name."""
    person = _locked(person_id)
    if person.name == PLACEHOLDER:
        person.name = name
        person.save(update_fields=["name"])
        record(person, "changed", by=person, at=at)
    return person


def end_sessions(person: Person) -> None:
    """Sign somebody out everywhere."""
    for session in UserSession.objects.filter(user_id=person.pk):
        session.end()


def _apply(person: Person, details: PersonDetails) -> None:
    person.name, person.email, person.phone = details.name, details.email, details.phone
    person.is_owner = Hat.OWNER in details.hats
    person.is_planner = Hat.PLANNER in details.hats
    person.is_bookkeeper = Hat.BOOKKEEPER in details.hats


def _refuse_taken(username: str, *, but: Person | None = None) -> None:
    others = Person.objects.filter(username__iexact=username)
    if but:
        others = others.exclude(pk=but.pk)
    if others.exists():
        raise TakenNameError("Somebody signs in by this name already.")


def _refuse_last_owner(person: Person) -> None:
    owners = Person.objects.select_for_update().filter(is_owner=True, is_active=True)
    if [owner.pk for owner in owners.order_by("pk")] == [person.pk]:
        raise LastOwnerError(
            f"{person} is the only owner. Make somebody else an owner first."
        )


def _locked(person_id: int) -> Person:
    return Person.objects.select_for_update().get(pk=person_id)


def _words(hats: Collection[Hat]) -> list[str]:
    return [hat.value for hat in Hat if hat in hats]
