"""What the outbox puts on Today: letters that somebody must decide about."""

from datetime import datetime

from django.urls import reverse

from studio.mail.models import Message
from studio.mail.states import MessageState
from studio.panels import TodayItem, on_today
from studio.people.models import Person


@on_today(action="mail.resend")
def letters_in_trouble(person: Person, at: datetime) -> list[TodayItem]:
    """Return the letters that were refused, or that nobody knows were sent."""
    return [_item(message) for message in Message.objects.in_trouble()[:20]]


def _item(message: Message) -> TodayItem:
    doubtful = message.state == MessageState.UNKNOWN
    reader = message.recipient_name or message.address
    said = "may have reached" if doubtful else "did not reach"
    return TodayItem(
        group="late",
        title=f"“{message.subject}” {said} {reader}",
        reason=message.fault,
        url=reverse("studio:message", args=[message.pk]),
        verb="Decide" if doubtful else "Look",
        icon="mail",
    )
