"""What the worker does about the outbox."""

import time

from celery import shared_task
from celery.utils.log import get_task_logger
from django.utils import timezone

from studio.mail.delivery import PostOffice, deliver, release_lapsed
from studio.mail.models import Message

logger = get_task_logger(__name__)

MOST_AT_ONCE = 50
# A slow server must not carry a sweep over its time limit: what is cut off in the
# middle of a letter is in doubt afterwards. The rest goes in the next round.
SWEEP_S = 30.0


@shared_task(name="studio.send_waiting_mail", ignore_result=True)
def send_waiting_mail(**_later: object) -> None:
    """Send what waits. Safe to run twice, late or at once: each row is claimed."""
    at, ends_s = timezone.now(), time.monotonic() + SWEEP_S
    release_lapsed(at=at)
    waiting = Message.objects.waiting(at=at).order_by("not_before", "pk")
    message_ids = list(waiting.values_list("pk", flat=True)[:MOST_AT_ONCE])
    with PostOffice() as office:
        for message_id in message_ids:
            try:
                deliver(message_id=message_id, office=office, at=timezone.now())
            except Exception:  # one message's fault does not stop the rest
                logger.exception("Message %s was not sent", message_id)
            if office.is_down or time.monotonic() >= ends_s:
                break
