"""What every request and answer has in common."""

from collections.abc import Callable, Iterable, Sequence
from typing import cast

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone
from django.utils.http import content_disposition_header

from studio.people.models import Person
from studio.sheets import WORKBOOK_TYPE, Cell, csv_bytes, workbook_bytes

PERMISSIONS = (
    "camera=(), microphone=(), geolocation=(), payment=(), usb=(), "
    "accelerometer=(), gyroscope=(), magnetometer=()"
)


class StaffRequest(HttpRequest):
    """A request of somebody who is signed in."""

    user: Person


class AnswerHeaders:
    """Set the headers that no library sets: permissions, and what is not kept."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer with the headers added."""
        answer = self.get_response(request)
        answer.headers.setdefault("Permissions-Policy", PERMISSIONS)
        if not request.path.startswith("/static/"):
            answer.headers.setdefault("Cache-Control", "no-store")
        if request.path.startswith("/p/"):
            # "no-referrer" would make browsers post with "Origin: null", and every
            # form behind a private link be refused; nothing leaves this site either way
            answer.headers["Referrer-Policy"] = "same-origin"
            answer.headers["X-Robots-Tag"] = "noindex, nofollow"
        return answer


def wants_fragment(request: HttpRequest) -> bool:
    """Say whether only the part that changes is asked for."""
    return request.headers.get("HX-Request") == "true"


def download(*, name: str, content_type: str, content: bytes) -> HttpResponse:
    """Return bytes as a download under a name; no browser runs or shows them."""
    answer = HttpResponse(content, content_type=content_type)
    answer["Content-Disposition"] = content_disposition_header(True, name) or ""
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def sheet_download(
    *, name: str, kind: str, head: Sequence[str], rows: Iterable[Sequence[Cell]]
) -> HttpResponse:
    """Return a table as a download of kind csv or xlsx; another kind is not there."""
    if kind == "csv":
        content_type, content = "text/csv; charset=utf-8", csv_bytes(head, rows)
    elif kind == "xlsx":
        content_type = WORKBOOK_TYPE
        content = workbook_bytes(name, head, rows, made_at=timezone.now())
    else:
        raise Http404
    return download(name=f"{name}.{kind}", content_type=content_type, content=content)


def sent_by_script(request: HttpRequest) -> bool:
    """Say whether a script sends what it kept, and wants a short answer, no page."""
    return "X-Kept" in request.headers


def short_answer(words: str, *, status: int = 200) -> HttpResponse:
    """Answer a script in words that it may show."""
    return HttpResponse(words, status=status, content_type="text/plain; charset=utf-8")


def staff(request: HttpRequest) -> StaffRequest:
    """Return the request, typed as that of a signed-in person."""
    return cast("StaffRequest", request)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Say calmly that the page was open for too long."""
    return render(request, "403_csrf.html", status=403)
