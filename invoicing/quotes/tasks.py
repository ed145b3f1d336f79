"""What the worker does about quotes."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from invoicing.quotes.models import Quote
from invoicing.quotes.operations import let_quote_lapse
from studio.errors import DomainError
from studio.profile.models import StudioProfile

logger = get_task_logger(__name__)


@shared_task(name="invoicing.lapse_quotes", ignore_result=True)
def lapse_quotes(**_later: object) -> None:
    """Let the sent quotes lapse whose day has passed. Safe to run twice."""
    at = timezone.now()
    today = at.astimezone(StudioProfile.load().zone).date()
    waiting = Quote.objects.sent().filter(valid_until_on__lt=today)
    for quote_id in waiting.values_list("pk", flat=True):
        try:
            let_quote_lapse(quote_id=quote_id, at=at)
        except DomainError:  # accepted or replaced a moment ago
            logger.info("Quote %s did not lapse after all", quote_id)
