"""Who opens a page without signing in, as far as the network says, and how often."""

from __future__ import annotations

import hashlib
import hmac
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from django.conf import settings
from django.core.cache import cache
from django.http import HttpRequest
from django.utils import timezone

MOST_A_MINUTE: Final = 30
LONGEST: Final = 60


def address_of(request: HttpRequest) -> str:
    """Return the visitor's network address.

    Behind the proxy of the server profile it is the one that the proxy itself saw:
    the last of the forwarded ones. What stands before it anybody could have written.
    """
    if settings.SECURE_PROXY_SSL_HEADER:
        forwarded = request.headers.get("X-Forwarded-For", "")
        if last := forwarded.rpartition(",")[2].strip():
            return last[:LONGEST]
    return str(request.META.get("REMOTE_ADDR", ""))[:LONGEST]


def posts_too_often(request: HttpRequest) -> bool:
    """Count a post of this visitor; say whether it is more than a person makes."""
    limit = Limit("private-posts", MOST_A_MINUTE, timedelta(minutes=1))
    return is_over(limit, address_of(request))


@dataclass(frozen=True, slots=True)
class Limit:
    """How often something may be done within a while."""

    what: str
    most: int
    within: timedelta


def is_over(limit: Limit, who: str = "") -> bool:
    """Count one more; say whether it is more than the limit lets pass.

    Who it was is kept as a keyed hash only, and no longer than the limit looks back.
    """
    seconds = int(limit.within.total_seconds())
    window = int(timezone.now().timestamp()) // seconds
    known = hmac.new(settings.SECRET_KEY.encode(), who.encode(), hashlib.sha256)
    key = f"{limit.what}:{known.hexdigest()[:32]}:{window}"
    cache.add(key, 0, timeout=2 * seconds)
    try:
        return cache.incr(key) > limit.most
    except ValueError:  # it ran out between the two
        return False
