"""The one decorator that a view names its permission with."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

from studio.people.policy import POLICY

View = Callable[..., HttpResponseBase]


def may(action: str) -> Callable[[View], View]:
    """Let a view answer only people who may do `action`; 403 for the others."""
    if action not in POLICY:
        raise ValueError(f"{action!r} is not in the policy table")

    def decorate(view: View) -> View:
        @wraps(view)
        def guarded(
            request: HttpRequest, *args: Any, **kwargs: Any
        ) -> HttpResponseBase:
            if not (request.user.is_authenticated and request.user.may(action)):
                raise PermissionDenied(action)
            return view(request, *args, **kwargs)

        guarded.policy = action  # type: ignore[attr-defined]
        return guarded

    return decorate


def open_to_all(view: View) -> View:
    """Let a view answer anybody, signed in or not; it guards itself."""
    opened = login_not_required(view)
    opened.policy = "open"  # type: ignore[attr-defined]
    return opened
