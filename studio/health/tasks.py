"""What the worker does to keep the database quick."""

from celery import shared_task
from django.db import connection


@shared_task(name="studio.count_rows", ignore_result=True, time_limit=900)
def count_rows_daily(**_later: object) -> None:
    """Let SQLite look how its rows are spread, by which it chooses among indexes.

    PostgreSQL does so by itself. Safe to run twice or at once.
    """
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA optimize = 0x10002")
