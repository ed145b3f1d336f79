"""An empty studio asks who it is before anything else."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from studio.profile.models import StudioProfile, read_once

REACHABLE = ("/account/", "/static/", "/healthz/", "/first-run/", "/p/")


class FirstRunMiddleware:
    """Send the owner of an empty studio to its first-run pages."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, or send the owner to the first step that is open."""
        if request.path.startswith(REACHABLE) or not request.user.is_authenticated:
            return self.get_response(request)
        if request.user.is_owner and StudioProfile.load().set_up_at is None:
            return redirect("studio:first_run")
        return self.get_response(request)


class ReadOnceMiddleware:
    """Lets a page that is only shown read the studio's row once, however often asked.

    What is posted may change that row, and reads it afresh.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request."""
        if request.method not in {"GET", "HEAD"}:
            return self.get_response(request)
        with read_once():
            return self.get_response(request)
