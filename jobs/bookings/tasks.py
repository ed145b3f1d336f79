"""What the worker does about bookings."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from jobs.bookings.models import Booking
from jobs.bookings.operations import let_hold_lapse
from studio.errors import DomainError

logger = get_task_logger(__name__)


@shared_task(name="jobs.let_holds_lapse", ignore_result=True)
def let_holds_lapse(**_later: object) -> None:
    """Free the pencilled sessions whose hold has run out. Safe to run twice."""
    at = timezone.now()
    for booking_id in Booking.objects.lapsed(at=at).values_list("pk", flat=True):
        try:
            let_hold_lapse(booking_id=booking_id, at=at)
        except DomainError:  # confirmed a moment ago
            logger.info("Booking %s did not lapse after all", booking_id)
