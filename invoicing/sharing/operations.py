"""Handing the pack of a closed period out, taking that back, noting each download."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F

from invoicing.periods.models import ClosedPeriod
from invoicing.sharing.models import PackShare
from studio.errors import DomainError
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose
from studio.links.operations import make_link, revoke_links
from studio.mail.letters import PLACE
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile


class SharingError(DomainError):
    """A pack cannot be handed out so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """Who gets the pack, and for how long; without an address nothing is mailed."""

    name: str
    address: str
    lasts: timedelta
    form_key: str


@transaction.atomic
def share_pack(
    *, period_id: int, reader: Reader, letter: tuple[str, str], by: Person, at: datetime
) -> PackShare:
    """Open a private page for one reader, and mail them its address as it was shown.

    `letter` is subject and words. Raises SharingError.
    """
    period = ClosedPeriod.objects.get(pk=period_id)
    occasion = f"books:{period.pk}:{reader.form_key}"
    if before := Message.objects.filter(occasion=occasion).first():
        return PackShare.objects.get(message=before)
    _may_go(reader, letter)
    share = PackShare.objects.create(
        period=period, name=reader.name, address=reader.address, made_at=at, made_by=by
    )
    share.link = make_link(
        purpose=LinkPurpose.BOOKS, object_id=share.pk, at=at, lasts=reader.lasts
    )
    if reader.address:
        subject, words = letter
        share.message = write_message(
            occasion=occasion,
            about=period,
            letter=Letter(
                address=reader.address,
                recipient_name=reader.name,
                subject=subject,
                body=words,
            ),
            at=at,
            link=share.link,
        )
    share.save(update_fields=["link", "message"])
    record(share, "pack handed out", by=by, at=at, data={"days": reader.lasts.days})
    return share


@transaction.atomic
def close_share(*, share_id: int, by: Person, at: datetime) -> PackShare:
    """Take a reader's private page away; a letter that still waits does not go."""
    share = PackShare.objects.select_for_update(of=("self",)).get(pk=share_id)
    if revoke_links(purpose=LinkPurpose.BOOKS, object_id=share.pk, at=at):
        record(share, "pack closed", by=by, at=at)
    return share


@transaction.atomic
def note_fetch(*, share_id: int, at: datetime) -> None:
    """Journal that the reader downloaded the pack."""
    shares = PackShare.objects.filter(pk=share_id)
    shares.update(fetched=F("fetched") + 1, fetched_at=at)
    record(shares.get(), "pack downloaded", by=None, at=at, kind=ActorKind.CLIENT)


def _may_go(reader: Reader, letter: tuple[str, str]) -> None:
    if not reader.address:
        return
    if not StudioProfile.load().public_address:
        raise SharingError(
            "A letter needs the studio's public address, which is not set. Leave the "
            "e-mail empty, and pass the private page on yourself."
        )
    if PLACE not in letter[1]:
        raise SharingError(f"Leave {PLACE} in the words: the address goes there.")
