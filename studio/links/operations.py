"""Making, finding and revoking private links.

The token is an HMAC of the link's nonce under a key of its own: random in effect,
never stored, and yet the mail that carries it can be written again.
"""

import base64
import hashlib
import hmac
import secrets
from datetime import datetime, timedelta
from typing import Final

from django.conf import settings
from django.db import transaction
from django.db.models import F

from studio.errors import DomainError
from studio.links.models import LinkPurpose, PrivateLink

KEY_PURPOSE: Final = b"northsill private links"
LASTS: Final = timedelta(days=90)


class LinkGoneError(DomainError):
    """A private link opens nothing: unknown, expired or revoked."""


class LinkReplacedError(LinkGoneError):
    """A private link was replaced by a newer one."""

    def __init__(self, link: PrivateLink) -> None:
        super().__init__("This link was replaced by a newer one.")
        self.link = link


def token_of(link: PrivateLink) -> str:
    """Return the token that opens a link, worked out anew."""
    key = hashlib.sha256(KEY_PURPOSE + settings.SECRET_KEY.encode()).digest()
    mac = hmac.new(key, f"{link.purpose}:{link.nonce}".encode(), hashlib.sha256)
    return base64.urlsafe_b64encode(mac.digest()).decode().rstrip("=")


def opens(token: str, link: PrivateLink) -> bool:
    """Say whether a token is the one that a link was made with."""
    return hmac.compare_digest(_hash(token), link.token_hash)


def make_link(
    *,
    purpose: LinkPurpose,
    object_id: int,
    version: int = 1,
    at: datetime,
    lasts: timedelta = LASTS,
) -> PrivateLink:
    """Make a new link to a row; earlier ones stay as they are."""
    link = PrivateLink(
        purpose=purpose,
        object_id=object_id,
        version=version,
        nonce=secrets.token_hex(32),
        created_at=at,
        expires_at=at + lasts,
    )
    link.token_hash = _hash(token_of(link))
    link.save(force_insert=True)
    return link


def find_link(*, token: str, purpose: LinkPurpose, at: datetime) -> PrivateLink:
    """Return the live link that a token opens.

    Raises LinkReplacedError for one that a newer link replaced, LinkGoneError for
    every other reason alike.
    """
    links = PrivateLink.objects.filter(token_hash=_hash(token), purpose=purpose)
    if link := links.live(at=at).first():
        return link
    if replaced := links.filter(replaced=True).first():
        raise LinkReplacedError(replaced)
    raise LinkGoneError("This link opens nothing.")


def note_use(link: PrivateLink, *, at: datetime) -> None:
    """Count a visit; asked for by a page that a person has really opened."""
    uses = PrivateLink.objects.filter(pk=link.pk)
    uses.update(uses=F("uses") + 1, last_used_at=at)
    uses.filter(first_used_at__isnull=True).update(first_used_at=at)


@transaction.atomic
def revoke_links(
    *, purpose: LinkPurpose, object_id: int, at: datetime, replaced: bool = False
) -> int:
    """Revoke every link to a row; say whether a newer one takes their place."""
    live = PrivateLink.objects.of(purpose, object_id).filter(revoked_at__isnull=True)
    return live.update(revoked_at=at, replaced=replaced)


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
