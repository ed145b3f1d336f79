"""What the worker does about the data of issued papers."""

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from invoicing.einvoices.operations import finish_einvoice, unfinished_data

logger = get_task_logger(__name__)


@shared_task(name="invoicing.finish_einvoices", ignore_result=True)
def finish_einvoices(**_later: object) -> None:
    """Make the data that is still to be made. Safe to run twice or at once."""
    at = timezone.now()
    for invoice_id, kind in unfinished_data(at=at):
        try:
            finish_einvoice(invoice_id=invoice_id, kind=kind, at=at)
        except Exception:  # one paper's fault does not stop the rest
            logger.exception("The %s data of %s was not made", kind, invoice_id)
