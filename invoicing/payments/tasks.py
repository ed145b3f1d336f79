"""What the worker does about money."""

from celery import shared_task
from django.utils import timezone

from invoicing.payments.operations import close_if_paid
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage


@shared_task(name="invoicing.close_paid_jobs", ignore_result=True)
def close_paid_jobs(**_later: object) -> None:
    """Close the delivered jobs whose money is all in. Safe to run twice."""
    delivered = Job.objects.filter(stage=JobStage.DELIVERED)
    for job_id in delivered.values_list("pk", flat=True):
        close_if_paid(job_id=job_id, by=None, at=timezone.now())
