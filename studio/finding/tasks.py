"""What the worker does about the words of the search box."""

from celery import shared_task
from celery.utils.log import get_task_logger

from studio.finding.mending import mend_words

logger = get_task_logger(__name__)


@shared_task(name="studio.mend_words", ignore_result=True, time_limit=900)
def mend_words_nightly(**_later: object) -> None:
    """Put right what the search box does not find. Safe to run twice or at once."""
    if mended := mend_words():
        logger.warning("The words of %s rows were put right.", mended)
