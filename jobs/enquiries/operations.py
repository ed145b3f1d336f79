"""What strangers write by the form, and what they are answered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.clients.keys import name_key, phone_key
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.jobs.choices import Channel
from jobs.jobs.models import Job
from jobs.jobs.operations import Enquiry, note_answer, open_job
from jobs.jobs.titles import title_of
from studio.errors import DomainError
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.people.models import Person

SAME_WITHIN: Final = timedelta(hours=1)


class ClosedFormError(DomainError):
    """Nobody is there to take an enquiry by the form."""


class NoAddressError(DomainError):
    """A client has no address that an answer could go to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What somebody wrote by the form."""

    name: str
    phone: str = ""
    email: str = ""
    when: str = ""
    wished_on: date | None = None
    what: str = ""

    @property
    def wish(self) -> str:
        """What they wish, with the time in their words."""
        return f"{self.what}\n\nWhen: {self.when}" if self.when else self.what


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """An answer as it goes out, and when to ask again."""

    subject: str
    words: str
    nudge_on: date | None = None


@transaction.atomic
def take_written(*, written: Written, at: datetime) -> Job:
    """Turn what was written by the form into a job of the studio's owner.

    Sent twice, it is one job. Whoever has both the name and a number or address of a
    client is that client; anybody else is new, and may be merged. ClosedFormError.
    """
    owners = Person.objects.filter(is_active=True, is_owner=True)
    owner = owners.select_for_update().order_by("pk").first()
    if owner is None:
        raise ClosedFormError("The form is closed for now. Ring us, please.")
    client = _known(written)
    if client and (same := _sent_before(client, written, at)):
        return same
    details = ClientDetails(name=written.name, phone=written.phone, email=written.email)
    client = client or add_client(details=details, by=None, at=at)
    enquiry = Enquiry(
        title=title_of(client.name, written.what),
        wish=written.wish,
        wished_on=written.wished_on,
        came_in=Channel.FORM,
    )
    return open_job(client=client, enquiry=enquiry, by=None, at=at, owner=owner)


@transaction.atomic
def send_reply(*, job_id: int, reply: Reply, by: Person, at: datetime) -> Message:
    """Answer an enquiry by mail, and note when to ask again. Raises NoAddressError."""
    job = note_answer(job_id=job_id, nudge_on=reply.nudge_on, by=by, at=at)
    client = job.client
    if not client.email:
        raise NoAddressError("The client has no e-mail address. Add one, or ring.")
    count = Message.objects.about(job).filter(occasion__startswith="reply:").count()
    return write_message(
        occasion=f"reply:{job.pk}:{count + 1}",
        about=job,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=reply.subject,
            body=reply.words,
        ),
        at=at,
    )


def _known(written: Written) -> Client | None:
    named = Client.objects.standing().filter(name_key=name_key(written.name))
    for field, key in (
        ("mail_key", written.email.casefold()),
        ("phone_key", phone_key(written.phone)),
    ):
        if key and (found := named.filter(**{field: key}).first()):
            return found
    return None


def _sent_before(client: Client, written: Written, at: datetime) -> Job | None:
    same = client.jobs.filter(came_in=Channel.FORM, wish=written.wish)
    return same.filter(enquired_at__gt=at - SAME_WITHIN).first()
