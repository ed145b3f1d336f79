"""Triggers and constraints that migrations install are all in the database."""

import re

import pytest
from django.db import connection

from studio.guards import EXPECTED, Guard

pytestmark = pytest.mark.django_db

MADE = re.compile(r"(?:CREATE (?:CONSTRAINT )?TRIGGER|ADD CONSTRAINT) (\w+)")


def names_of(guard: Guard) -> set[str]:
    statements = guard.sqlite if connection.vendor == "sqlite" else guard.postgres
    return {name for statement in statements for name in MADE.findall(statement)}


def names_in_database() -> set[str]:
    if connection.vendor == "sqlite":
        query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    else:
        query = "SELECT tgname FROM pg_trigger UNION SELECT conname FROM pg_constraint"
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {str(row[0]) for row in cursor.fetchall()}


def test_every_guard_stands_in_a_migrated_database() -> None:
    present = names_in_database()

    missing = {
        name: sorted(names_of(guard) - present)
        for name, guard in EXPECTED.items()
        if not names_of(guard) <= present
    }

    assert missing == {}


def test_every_guard_makes_something() -> None:
    assert len(EXPECTED) >= 8
    assert [name for name, guard in EXPECTED.items() if not names_of(guard)] == []
