"""What a client sees behind the private link of a quote."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.core.cache import cache
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.quotes.accepting import (
    AlreadyAcceptedError,
    NotOpenError,
    Yes,
    accept_quote,
)
from invoicing.quotes.calendar import session_file
from invoicing.quotes.forms import AcceptForm, QuestionForm
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import ask_question
from invoicing.quotes.printed import printed_quote
from invoicing.quotes.queries import figures_of
from invoicing.quotes.states import QuoteState
from invoicing.quotes.thanks import thanks_for
from jobs.bookings.holding import ClashError
from jobs.jobs.operations import note_showing
from jobs.jobs.states import JobMoveError
from studio.links.models import LinkPurpose
from studio.links.operations import (
    LinkGoneError,
    LinkReplacedError,
    find_link,
    note_use,
)
from studio.people.access import open_to_all
from studio.profile.models import StudioProfile

MOST_A_MINUTE = 30


ClientView = Callable[[HttpRequest, Quote, str], HttpResponseBase]


def behind_link(view: ClientView) -> Callable[[HttpRequest, str], HttpResponseBase]:
    """Let a view answer whoever has a quote's link; a replaced link says so."""

    @wraps(view)
    def opened(request: HttpRequest, token: str) -> HttpResponseBase:
        _count(request)
        at = timezone.now()
        try:
            link = find_link(token=token, purpose=LinkPurpose.QUOTE, at=at)
        except LinkReplacedError:
            page = "invoicing/quotes/client_replaced.html"
            return render(request, page, status=410)
        except LinkGoneError as gone:
            raise Http404 from gone
        if request.method == "GET":
            note_use(link, at=at)
        quotes = Quote.objects.select_related("job__client", "booking__place", "paper")
        found = quotes.prefetch_related("lines").get(pk=link.object_id)
        return view(request, found, token)

    return opened


def _count(request: HttpRequest) -> None:
    if request.method != "POST":
        return
    address = request.META.get("REMOTE_ADDR", "")
    key = f"private-posts:{address}:{timezone.now():%H%M}"
    cache.add(key, 0, timeout=120)
    if cache.incr(key) > MOST_A_MINUTE:
        raise Http404


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def client_quote(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Show a quote to its client, and take their yes."""
    if found.state == QuoteState.ACCEPTED:
        return _thanks(request, found, token)
    form = AcceptForm(request.POST if request.method == "POST" else None)
    chosen = chosen_of(request, found)
    status = 200
    if form.is_valid():
        try:
            _accept(request, found, form, chosen)
        except AlreadyAcceptedError:
            return redirect("invoicing:client_quote", token)
        except ClashError:
            return _clash(request, found, token)
        except (NotOpenError, JobMoveError) as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("invoicing:client_quote", token)
        status = 409
    context = _context(found, token, chosen) | {"form": form}
    if form.is_bound and status == 200:
        status = 422
    return render(request, "invoicing/quotes/client.html", context, status=status)


@open_to_all
@require_safe
@behind_link
def client_price(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Return the price with the extras that are ticked."""
    context = _context(found, token, chosen_of(request, found))
    return render(request, "invoicing/quotes/_client_price.html", context)


@open_to_all
@require_safe
@behind_link
def client_pdf(
    request: HttpRequest, found: Quote, token: str
) -> HttpResponse | FileResponse:
    """Give the paper that was sent."""
    if found.paper is None:
        raise Http404
    return FileResponse(
        iter([bytes(found.paper.content)]),
        content_type="application/pdf",
        headers={
            "Content-Disposition": f'attachment; filename="{found.paper.name}"',
            "X-Content-Type-Options": "nosniff",
        },
    )


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def client_question(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Take a question, or a wish for another date."""
    form = QuestionForm(request.POST if request.method == "POST" else None)
    asked = False
    if form.is_valid():
        ask_question(quote=found, words=form.cleaned_data["words"], at=timezone.now())
        asked = True
    context = {"quote": found, "form": form, "token": token, "asked": asked}
    return render(request, "invoicing/quotes/client_question.html", context)


@open_to_all
@require_POST
@behind_link
def client_showing(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Change whether the studio may show the pictures."""
    note_showing(
        job_id=found.job_id,
        allowed=request.POST.get("may_show") == "yes",
        by=None,
        at=timezone.now(),
    )
    return redirect("invoicing:client_quote", token)


@open_to_all
@require_safe
@behind_link
def client_calendar(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Give the session as a file for a calendar."""
    if found.booking is None:
        raise Http404
    answer = HttpResponse(
        session_file(found.booking, at=timezone.now()), content_type="text/calendar"
    )
    answer["Content-Disposition"] = 'attachment; filename="session.ics"'
    return answer


def chosen_of(request: HttpRequest, found: Quote) -> frozenset[int]:
    """Return the extras that are ticked, of those that the quote offers."""
    given = request.POST if request.method == "POST" else request.GET
    offered = {str(line.pk): line.pk for line in found.lines.all() if line.optional}
    ticked = given.getlist("extra")
    return frozenset(offered[pk] for pk in ticked if pk in offered)


def _accept(
    request: HttpRequest, found: Quote, form: AcceptForm, chosen: frozenset[int]
) -> None:
    accept_quote(
        quote_id=found.pk,
        yes=Yes(
            name=form.cleaned_data["name"],
            chosen=chosen,
            may_show_pictures=form.cleaned_data["may_show"],
            network_address=request.META.get("REMOTE_ADDR", "")[:60],
        ),
        at=timezone.now(),
    )


def _context(found: Quote, token: str, chosen: frozenset[int]) -> dict[str, Any]:
    today = timezone.now().astimezone(StudioProfile.load().zone).date()
    printed = printed_quote(found.snapshot or {})
    extras = [(one, one.line in chosen) for one in printed.extras]
    return {
        "quote": found,
        "printed": printed,
        "token": token,
        "extras": extras,
        "taken": [one for one, ticked in extras if ticked],
        "figures": figures_of(found, chosen),
        "open": found.state == QuoteState.SENT and found.valid_until_on >= today,
        "late": found.valid_until_on < today,
    }


def _thanks(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    context = {
        "quote": found,
        "token": token,
        "printed": printed_quote(found.snapshot or {}),
        "thanks": thanks_for(found),
    }
    return render(request, "invoicing/quotes/client_thanks.html", context)


def _clash(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    context = {"quote": found, "token": token}
    return render(request, "invoicing/quotes/client_taken.html", context, status=409)
