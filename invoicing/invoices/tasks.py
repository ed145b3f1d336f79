"""What the worker does about issued papers."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from invoicing.invoices.finishing import finish_document, unfinished

logger = get_task_logger(__name__)


@shared_task(name="invoicing.finish_documents", ignore_result=True)
def finish_documents(**_later: object) -> None:
    """Make the papers that are still to be made. Safe to run twice or at once."""
    for invoice_id in unfinished():
        try:
            finish_document(invoice_id=invoice_id, at=timezone.now())
        except Exception:  # one paper's fault does not stop the rest
            logger.exception("The paper of invoice %s was not made", invoice_id)
