"""What the worker does about copies."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from studio.backups.nightly import back_up_nightly
from studio.errors import DomainError

logger = get_task_logger(__name__)


@shared_task(name="studio.nightly_backup", ignore_result=True, time_limit=900)
def nightly_backup(**_later: object) -> None:
    """Make the night's copy, once. Safe to run twice or at once."""
    try:
        path = back_up_nightly(at=timezone.now())
    except DomainError as reason:
        logger.error("No nightly copy: %s", reason)  # noqa: TRY400 - the reason says it all
    else:
        if path:
            logger.info("The night's copy is %s", path)
