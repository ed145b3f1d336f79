"""Who signs in first: the owner of an empty studio, or the people of the demo."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Final

from django.conf import settings
from django.db import transaction

from studio.demo import Scenery, build_demo
from studio.errors import DomainError
from studio.people.models import Person
from studio.people.passwords import readable_password
from studio.profile.models import StudioProfile
from studio.used import holds_work

OWNER: Final = "owner"
KEPT: Final = "demo-passwords.txt"


class UsedDatabaseError(DomainError):
    """The demo was asked for in a database that holds real work."""


def first_owner() -> str | None:
    """Make the owner of a studio without people; return the password, once.

    None where there are people already.
    """
    if Person.objects.exists():
        return None
    password = readable_password()
    Person.objects.create_user(OWNER, password, name="Owner", is_owner=True)
    return password


def open_demo(*, at: datetime) -> dict[str, str]:
    """Build the demo in an empty database, or open the one that is there.

    Returns sign-in names and passwords. Raises UsedDatabaseError.
    """
    if StudioProfile.load().is_demo:
        return kept_passwords()
    if holds_work():
        raise UsedDatabaseError(
            "This database holds a real studio, so the demo is not put into it. Give "
            "the demo a folder of its own: NORTHSILL_VAR=var/demo uv run manage.py "
            "start --demo"
        )
    with transaction.atomic():
        Person.objects.all().delete()
        scenery = build_demo(Scenery(at=at))
        StudioProfile.objects.update(is_demo=True)
        _keep(scenery.passwords)
    return scenery.passwords


def kept_passwords() -> dict[str, str]:
    """Return the demo's passwords that var/ keeps; none if the file is gone."""
    path = _path()
    if not path.exists():
        return {}
    lines = [line.split() for line in path.read_text().splitlines()]
    return {line[0]: line[1] for line in lines if len(line) == 2}


def _keep(passwords: Mapping[str, str]) -> None:
    path = _path()
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w") as file:
        file.writelines(f"{name} {word}\n" for name, word in passwords.items())


def _path() -> Path:
    folder: Path = settings.DATA_DIR
    return folder / KEPT
