"""Whether the studio's machine is well, in one answer."""

from django.conf import settings
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from studio.mail.models import Message
from studio.people.access import open_to_all


def _database() -> str:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return "down"
    return "up"


@open_to_all
@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    """Answer 200 while the database is up; tell of broker and outbox."""
    database = _database()
    state = {
        "database": database,
        "broker": "redis" if settings.REDIS_URL else "own",
        "outbox": (
            Message.objects.waiting(at=timezone.now()).count()
            if database == "up"
            else None
        ),
    }
    return JsonResponse(state, status=200 if database == "up" else 503)
