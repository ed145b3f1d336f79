"""A second factor for everybody, where the profile asks for one."""

from collections.abc import Callable

from allauth.mfa.utils import is_mfa_enabled
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

ALLOWED_WITHOUT = ("/account/", "/static/", "/healthz/")


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
