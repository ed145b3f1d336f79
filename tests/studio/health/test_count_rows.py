"""The database knows how its rows are spread."""

import pytest
from django.db import connection

from studio.health.tasks import count_rows_daily
from tests.make import make_client

pytestmark = pytest.mark.django_db


def test_sqlite_counts_its_rows_and_postgres_is_left_alone() -> None:
    for number in range(30):
        make_client(f"Client {number}")

    count_rows_daily()

    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("SELECT stat FROM sqlite_stat1 WHERE tbl = 'jobs_client'")
            counted = {row[0].split()[0] for row in cursor.fetchall()}
        assert counted == {"30"}
