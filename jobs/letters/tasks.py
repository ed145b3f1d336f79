"""What the worker does about letters."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from jobs.letters.operations import send_by_itself
from jobs.letters.queries import due_letters
from studio.errors import DomainError

logger = get_task_logger(__name__)


@shared_task(name="jobs.send_due_letters", ignore_result=True)
def send_due_letters(**_later: object) -> None:
    """Send the due letters that go by themselves. Safe to run twice."""
    at = timezone.now()
    for due in due_letters(at=at):
        if not due.wording.by_itself:
            continue
        try:
            send_by_itself(due=due, at=at)
        except DomainError as refusal:
            logger.info("Letter %s stays: %s", due.wording.kind, refusal)
