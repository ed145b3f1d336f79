"""Years of sessions, copied back in time by the database itself."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.core.management.color import no_style
from django.db import connection, models

from jobs.bookings.models import Booking, Reservation
from jobs.jobs.models import Job


def grow(sessions: int) -> None:
    """Copy what is there, with its jobs, to before it, until there are so many.

    All keys of these tables count from 1, the last day's first.
    """
    while (have := Booking.objects.count()) < sessions:
        more = min(have, sessions - have)
        first = Booking.objects.order_by("starts_at")[0].starts_at.date()
        last = Booking.objects.order_by("-starts_at")[0].starts_at.date()
        back = last - first + timedelta(days=1)
        each = Reservation.objects.count() // have
        for model, times in ((Job, 1), (Booking, 1), (Reservation, each)):
            _copy(model, have=have, times=times, more=more, back=back)
    with connection.cursor() as cursor:
        style = no_style()
        for sql in connection.ops.sequence_reset_sql(
            style, [Job, Booking, Reservation]
        ):
            cursor.execute(sql)


def _copy(
    model: type[models.Model], *, have: int, times: int, more: int, back: timedelta
) -> None:
    fields = model._meta.concrete_fields
    table = model._meta.db_table
    words = [
        "INSERT INTO",
        table,
        f"({', '.join(str(field.column) for field in fields)})",
        "SELECT",
        ", ".join(_earlier(field, have * times, have, back) for field in fields),
        "FROM",
        table,
        f"WHERE id <= {more * times}",
    ]
    with connection.cursor() as cursor:
        cursor.execute(" ".join(words))


def _earlier(field: Any, keys: int, sessions: int, back: timedelta) -> str:
    """Return what a column holds in a copy of its row."""
    column = str(field.column)
    sqlite = connection.vendor == "sqlite"
    days = f"'-{back.days} days'" if sqlite else f"interval '{back.days} days'"
    time = f"datetime({column}, {days})" if sqlite else f"{column} - {days}"
    changed = {
        "id": f"id + {keys}",
        "number": f"'J-' || (id + {keys})",
        "job_id": f"job_id + {sessions}",
        "booking_id": f"booking_id + {sessions}",
        "uid": "lower(hex(randomblob(16)))" if sqlite else "gen_random_uuid()",
        "starts_at": time,
        "ends_at": time,
    }
    return changed.get(column, column)
