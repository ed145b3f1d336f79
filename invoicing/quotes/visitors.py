"""Who opens a private page, as far as the network says, and how often."""

from __future__ import annotations

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
    minute = f"{timezone.now():%Y%m%d%H%M}"
    key = f"private-posts:{address_of(request)}:{minute}".replace(" ", "")
    cache.add(key, 0, timeout=120)
    try:
        return cache.incr(key) > MOST_A_MINUTE
    except ValueError:  # it ran out between the two
        return False
