"""Where people are signed in, and a second factor where the profile asks for one."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Final

from allauth.account.adapter import get_adapter
from allauth.mfa.utils import is_mfa_enabled
from allauth.usersessions.models import UserSession
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

ALLOWED_WITHOUT = ("/account/", "/static/", "/healthz/")
NOTED_FOR: Final = timedelta(minutes=5)


class SeenMiddleware:
    """Note where somebody is signed in: at once when that is new, else now and then.

    Noted at each request, every page would write to the database before it is read.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, noting first what was not noted in these minutes."""
        if request.user.is_authenticated and not _is_noted(request):
            UserSession.objects.create_from_request(request)
        return self.get_response(request)


def _is_noted(request: HttpRequest) -> bool:
    longest = UserSession._meta.get_field("user_agent").max_length
    noted = UserSession.objects.filter(
        session_key=request.session.session_key or "",
        user=request.user,
        ip=get_adapter().get_client_ip(request),
        user_agent=request.META.get("HTTP_USER_AGENT", "")[:longest],
        last_seen_at__gt=datetime.now(UTC) - NOTED_FOR,
    )
    return bool(noted.exists())


class SecondFactorMiddleware:
    """Send a person without a second factor to set one up, if it is required."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, or send the person to the second factor's page."""
        if (
            settings.SECOND_FACTOR_REQUIRED
            and request.user.is_authenticated
            and not request.path.startswith(ALLOWED_WITHOUT)
            and not is_mfa_enabled(request.user)
        ):
            return redirect("mfa_index")
        return self.get_response(request)
