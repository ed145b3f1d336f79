"""Where Celery looks for this app's tasks."""

from invoicing.einvoices.tasks import finish_einvoices
from invoicing.invoices.tasks import finish_documents
from invoicing.payments.tasks import close_paid_jobs
from invoicing.quotes.tasks import lapse_quotes, remind_of_quotes

__all__ = [
    "close_paid_jobs",
    "finish_documents",
    "finish_einvoices",
    "lapse_quotes",
    "remind_of_quotes",
]
