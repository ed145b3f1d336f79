"""Changing what the database guards, as somebody with the file in hand could."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction

from studio.guards import EXPECTED


@contextmanager
def unguarded(table: str) -> Iterator[None]:
    """Take a table's triggers away; the test's own rollback brings them back."""
    guard = EXPECTED[f"{table}_guard"]
    with transaction.atomic(), connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            for event in ("insert", "update", "delete"):
                cursor.execute(f"DROP TRIGGER IF EXISTS {guard.name}_{event}")
        else:
            cursor.execute(f"DROP TRIGGER IF EXISTS {guard.name} ON {table}")
    yield
