"""Whether the studio's machine is well, in one answer."""

from django.conf import settings
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.health.broker import broker_fault
from studio.mail.models import Message
from studio.people.access import open_to_all


def _database() -> str:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return "down"
    return "up"


def _broker() -> str:
    if not settings.REDIS_URL:
        return "own"
    return "down" if broker_fault() else "up"


def _outbox() -> dict[str, int]:
    return {
        "waiting": Message.objects.waiting(at=timezone.now()).count(),
        "in_trouble": Message.objects.in_trouble().count(),
    }


@open_to_all
@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    """Answer 200 while the database is up; tell of broker and outbox.

    A broker that is down is no reason for 503: pages save, and rows wait.
    """
    database = _database()
    is_up = database == "up"
    state = {
        "database": database,
        "broker": _broker(),
        "outbox": _outbox() if is_up else None,
    }
    return JsonResponse(state, status=200 if is_up else 503)
