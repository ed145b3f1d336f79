"""What the worker does about calendars."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from jobs.calendars.busy import read_again
from jobs.calendars.feeds import refresh_feeds
from jobs.calendars.models import BusyCalendar

logger = get_task_logger(__name__)
MOST_AT_ONCE = 20


@shared_task(name="jobs.refresh_feeds", ignore_result=True)
def refresh_calendar_feeds(**_later: object) -> None:
    """Bring every feed up to date. Safe to run twice."""
    refresh_feeds(at=timezone.now())


@shared_task(name="jobs.read_busy_calendars", ignore_result=True)
def read_busy_calendars(**_later: object) -> None:
    """Read the calendars whose turn it is; one that fails does not stop the rest."""
    at = timezone.now()
    due = BusyCalendar.objects.due(at=at).order_by("read_next_at")
    for calendar_id in due.values_list("pk", flat=True)[:MOST_AT_ONCE]:
        try:
            read_again(calendar_id=calendar_id, at=at)
        except BusyCalendar.DoesNotExist:
            logger.info("Calendar %s was dropped meanwhile", calendar_id)
