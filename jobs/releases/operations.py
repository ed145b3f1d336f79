"""Everything that can be done to sitters and their releases."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import date, datetime

from django.db import transaction

from jobs.clients.models import Client
from jobs.releases.models import AllowedUse, How, PictureUse, Release, Sitter, Use
from jobs.releases.words import release_words
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.history.models import ActorKind
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import make_link, revoke_links
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import day_year


class ReleaseError(DomainError):
    """Something cannot be done with a release; the reason is fit to show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SitterDetails:
    """What is known of a sitter."""

    name: str
    is_child: bool = False
    guardian_name: str = ""
    email: str = ""
    phone: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a release asks for."""

    uses: tuple[Use, ...]
    until_on: date | None = None
    limits: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """Who signed, and how it can be shown later."""

    name: str
    how: How
    signed_at: datetime
    scan: StoredFile | None = None
    network_address: str = ""
    browser: str = ""


@transaction.atomic
def add_sitter(
    *, client: Client, details: SitterDetails, by: Person, at: datetime
) -> Sitter:
    """Take somebody into the book who is photographed."""
    sitter = Sitter(client=client, added_at=at)
    _apply(sitter, details)
    sitter.save()
    record(sitter, "added", by=by, at=at)
    return sitter


@transaction.atomic
def change_sitter(
    *, sitter_id: int, details: SitterDetails, by: Person, at: datetime
) -> Sitter:
    """Change what is known of a sitter; what was signed keeps what it said."""
    sitter = Sitter.objects.select_for_update().get(pk=sitter_id)
    _apply(sitter, details)
    sitter.save()
    record(sitter, "changed", by=by, at=at)
    return sitter


@transaction.atomic
def make_release(*, sitter_id: int, asked: Asked, by: Person, at: datetime) -> Release:
    """Write a release out, to be signed on paper or on its private page."""
    sitter = Sitter.objects.get(pk=sitter_id)
    today = at.astimezone(StudioProfile.load().zone).date()
    if asked.until_on and asked.until_on <= today:
        raise ReleaseError("A release lasts until a day that is still to come.")
    words = release_words(sitter, asked.uses, asked.until_on, asked.limits)
    release = Release.objects.create(sitter=sitter, words=words, made_at=at, made_by=by)
    for use in asked.uses:
        AllowedUse.objects.create(release=release, use=use, until_on=asked.until_on)
    record(release, "made", by=by, at=at, data={"uses": list(asked.uses)})
    return release


@transaction.atomic
def send_release(*, release_id: int, by: Person, at: datetime) -> PrivateLink:
    """Send whoever signs the private page of a release. Raises ReleaseError."""
    release = _locked(release_id)
    sitter = release.sitter
    if release.signed_at:
        raise ReleaseError("The release is signed already.")
    if not sitter.email:
        raise ReleaseError("There is no e-mail address. Add one to the sitter.")
    studio = StudioProfile.load()
    if not studio.public_address:
        raise ReleaseError(
            "The studio has no public address, so no private page can be opened."
        )
    purpose = LinkPurpose.RELEASE
    revoke_links(purpose=purpose, object_id=release.pk, at=at, replaced=True)
    link = make_link(purpose=purpose, object_id=release.pk, at=at)
    body = (
        f"Hello {sitter.signer},\n\nmay we use pictures of {sitter.name}? What for, "
        "and until when, stands on this page; you sign there, or you do not:\n\n"
        f"{{link}}\n\n{by}\n{studio.trading_name}\n"
    )
    letter = Letter(
        address=sitter.email,
        recipient_name=sitter.signer,
        subject=f"May we use pictures of {sitter.name}?",
        body=body,
    )
    write_message(
        occasion=f"release:{release.pk}:{link.pk}",
        about=release,
        letter=letter,
        at=at,
        link=link,
    )
    record(release, "sent", by=by, at=at)
    return link


@transaction.atomic
def sign_release(
    *, release_id: int, signature: Signature, by: Person | None, at: datetime
) -> Release:
    """Note that a release was signed; once. Raises ReleaseError."""
    release = _locked(release_id)
    if release.signed_at:
        raise ReleaseError("The release is signed already.")
    if signature.signed_at > at:
        raise ReleaseError("It cannot have been signed in a time still to come.")
    release.how, release.signed_by = signature.how, signature.name
    release.signed_at, release.scan = signature.signed_at, signature.scan
    release.network_address = signature.network_address
    release.browser = signature.browser
    release.save()
    kind = None if by else ActorKind.CLIENT
    data = {"how": signature.how.value}
    record(release, "signed", by=by, at=at, kind=kind, data=data)
    return release


@transaction.atomic
def withdraw_use(
    *, use_id: int, words: str, by: Person | None, at: datetime
) -> AllowedUse:
    """Take one use back: nothing new goes out under it. Raises ReleaseError."""
    allowed = AllowedUse.objects.select_for_update().get(pk=use_id)
    if allowed.withdrawn_at:
        raise ReleaseError("This use was taken back already.")
    allowed.withdrawn_at, allowed.withdrawn_words = at, words
    allowed.save(update_fields=["withdrawn_at", "withdrawn_words"])
    kind = None if by else ActorKind.CLIENT
    record(allowed, "withdrawn", by=by, at=at, kind=kind)
    return allowed


@transaction.atomic
def note_picture_use(
    *, use_id: int, where: str, used_on: date, by: Person, at: datetime
) -> PictureUse:
    """Note where pictures went. Raises ReleaseError where it is not allowed."""
    uses = AllowedUse.objects.select_related("release__sitter")
    allowed = uses.select_for_update(of=("self",)).get(pk=use_id)
    standing = AllowedUse.objects.standing(on=used_on).filter(pk=allowed.pk)
    if not standing.exists():
        raise ReleaseError(
            f"{allowed.release.sitter} does not allow this: {why_not(allowed, used_on)}"
        )
    noted = PictureUse.objects.create(
        allowed=allowed, where=where, used_on=used_on, noted_by=by, noted_at=at
    )
    record(noted, "noted", by=by, at=at)
    return noted


@transaction.atomic
def note_removal(*, picture_use_id: int, by: Person, at: datetime) -> PictureUse:
    """Note that pictures were taken down again."""
    noted = PictureUse.objects.select_for_update().get(pk=picture_use_id)
    if noted.removed_at is None:
        noted.removed_at = at
        noted.save(update_fields=["removed_at"])
        record(noted, "taken down", by=by, at=at)
    return noted


def why_not(allowed: AllowedUse, on: date) -> str:
    """Return why pictures may not be used like this, nothing where they may."""
    if allowed.release.signed_at is None:
        return "the release is not signed."
    if allowed.withdrawn_at:
        return f"it was taken back on {day_year(allowed.withdrawn_at)}."
    if allowed.until_on and allowed.until_on < on:
        return f"it ended on {day_year(allowed.until_on)}."
    return ""


def _locked(release_id: int) -> Release:
    releases = Release.objects.select_related("sitter")
    return releases.select_for_update(of=("self",)).get(pk=release_id)


def _apply(sitter: Sitter, details: SitterDetails) -> None:
    for field in fields(details):
        setattr(sitter, field.name, getattr(details, field.name))
