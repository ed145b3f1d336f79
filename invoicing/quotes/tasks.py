"""What the worker does about quotes."""

from datetime import time
from typing import Final

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from invoicing.quotes.models import Quote
from invoicing.quotes.operations import let_quote_lapse
from invoicing.quotes.queries import waiting_for_yes
from invoicing.quotes.reminding import is_due, remind_of_quote
from studio.errors import DomainError
from studio.profile.models import StudioProfile

FIRST_LETTER: Final = time(9)
logger = get_task_logger(__name__)


@shared_task(name="invoicing.remind_of_quotes", ignore_result=True)
def remind_of_quotes(**_later: object) -> None:
    """Send the reminders that are due, where they go by themselves. Safe twice."""
    at, profile = timezone.now(), StudioProfile.load()
    local = at.astimezone(profile.zone)
    if not profile.quote_reminder_by_itself or local.time() < FIRST_LETTER:
        return
    for quote in waiting_for_yes(on=local.date()):
        if not (is_due(quote, at=at) and quote.job.client.email):
            continue
        try:
            remind_of_quote(quote_id=quote.pk, letter=None, at=at)
        except DomainError:  # answered or replaced a moment ago
            logger.info("Nobody was reminded of quote %s after all", quote.pk)


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
