"""What a client sees behind the private link of a quote."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
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
    PriceMovedError,
    SessionMovedError,
    Yes,
    accept_quote,
)
from invoicing.quotes.answer_forms import AcceptForm, DeclineForm, QuestionForm
from invoicing.quotes.asking import ask_question
from invoicing.quotes.calendar import session_file
from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.light_words import quoted_session
from invoicing.quotes.models import Quote
from invoicing.quotes.priced import Priced, priced
from invoicing.quotes.printed import printed_quote
from invoicing.quotes.snapshots import (
    Choice,
    Snapshot,
    content_of,
    extras_of,
    packages_of,
)
from invoicing.quotes.states import QuoteState
from invoicing.quotes.thanks import thanks_for
from invoicing.quotes.views import paper_of
from jobs.bookings.holding import ClashError
from jobs.bookings.states import BookingStatus
from jobs.jobs.operations import note_showing
from studio.errors import DomainError
from studio.links.models import LinkPurpose
from studio.links.operations import (
    LinkGoneError,
    LinkReplacedError,
    find_link,
    note_use,
)
from studio.people.access import open_to_all
from studio.profile.models import StudioProfile
from studio.visitors import address_of, posts_too_often

ClientView = Callable[[HttpRequest, Quote, str], HttpResponseBase]
PAGES = "invoicing/quotes/"


def behind_link(view: ClientView) -> Callable[[HttpRequest, str], HttpResponseBase]:
    """Let a view answer whoever has a quote's link; a replaced link says so."""

    @wraps(view)
    def opened(request: HttpRequest, token: str) -> HttpResponseBase:
        if request.method == "POST" and posts_too_often(request):
            return render(request, f"{PAGES}client_busy.html", status=429)
        at = timezone.now()
        try:
            link = find_link(token=token, purpose=LinkPurpose.QUOTE, at=at)
        except LinkReplacedError:
            return render(request, f"{PAGES}client_replaced.html", status=410)
        except LinkGoneError as gone:
            raise Http404 from gone
        if request.method == "GET" and not request.user.is_authenticated:
            note_use(link, at=at)
        quotes = Quote.objects.select_related(
            "job__client", "booking__place", "paper", "acceptance"
        )
        found = quotes.prefetch_related("lines").get(pk=link.object_id)
        return view(request, found, token)

    return opened


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def client_quote(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Show a quote to its client, and take their yes."""
    posted = request.method == "POST"
    if posted and "look" not in request.POST:
        return _take_yes(request, found, token)
    if found.state == QuoteState.ACCEPTED:
        return _thanks(request, found, token)
    # "look" gives the price of what is ticked, where no script runs
    snapshot = found.snapshot or {}
    form = _not_yet(request, snapshot) if posted else AcceptForm(snapshot=snapshot)
    return _page(request, found, token, form)


@open_to_all
@require_safe
@behind_link
def client_price(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Return the price with the package and the extras that are ticked."""
    context = _context(request, found, token) | {"live": True}
    return render(request, f"{PAGES}_client_price.html", context)


@open_to_all
@require_safe
@behind_link
def client_terms(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Show the terms on a page of their own, and what the studio keeps."""
    context = {"printed": printed_quote(found.snapshot or {}), "token": token}
    return render(request, f"{PAGES}client_terms.html", context)


@open_to_all
@require_safe
@behind_link
def client_pdf(request: HttpRequest, found: Quote, token: str) -> HttpResponseBase:
    """Give the paper that was sent, with the yes once there is one."""
    return paper_of(found)


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def client_question(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Take a question, or a wish for another date."""
    form = QuestionForm(request.POST if request.method == "POST" else None)
    asked = form.is_valid()
    if asked:
        words = form.cleaned_data["words"]
        ask_question(quote_id=found.pk, words=words, at=timezone.now())
    context = {"quote": found, "form": form, "token": token, "asked": asked}
    status = 422 if form.is_bound and not asked else 200
    return render(request, f"{PAGES}client_question.html", context, status=status)


@open_to_all
@require_POST
@behind_link
def client_showing(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Change whether the studio may show the pictures, once there is a yes."""
    if found.state == QuoteState.ACCEPTED:
        allowed = request.POST.get("may_show") == "yes"
        at = timezone.now()
        note_showing(job_id=found.job_id, allowed=allowed, by=None, at=at)
    return redirect("invoicing:client_quote", token)


@open_to_all
@require_safe
@behind_link
def client_calendar(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Give the session as a file for a calendar."""
    booking = found.booking
    if booking is None or booking.status == BookingStatus.CANCELLED:
        raise Http404
    content = session_file(booking, at=timezone.now())
    answer = HttpResponse(content, content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="session.ics"'
    return answer


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def client_decline(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    """Take the client's no, with a reason if they give one."""
    form = DeclineForm(request.POST if request.method == "POST" else None)
    if found.state == QuoteState.SENT and form.is_valid():
        no = No(reason=form.cleaned_data["reason"], words=form.cleaned_data["words"])
        try:
            decline_quote(quote_id=found.pk, no=no, at=timezone.now())
        except DomainError:  # answered or replaced a moment ago: the page says so
            return redirect("invoicing:client_quote", token)
        found.refresh_from_db(fields=["state"])
    context = {"quote": found, "form": form, "token": token}
    return render(request, f"{PAGES}client_decline.html", context)


def chosen_of(request: HttpRequest, found: Quote) -> Choice:
    """Return what is ticked, of what the quote offers."""
    given = request.POST if request.method == "POST" else request.GET
    snapshot = found.snapshot or {}
    extras = {str(pk): pk for pk, _ in extras_of(snapshot)}
    places = {str(one.place): one.place for one in packages_of(snapshot)}
    return Choice(
        frozenset(extras[pk] for pk in given.getlist("extra") if pk in extras),
        places.get(given.get("package", "")),
    )


def _take_yes(request: HttpRequest, found: Quote, token: str) -> HttpResponse:
    form = AcceptForm(request.POST, snapshot=found.snapshot or {})
    if not form.is_valid():
        return _page(request, found, token, form, status=422)
    try:
        _accept(request, found, form)
    except AlreadyAcceptedError as already:
        return _thanks(request, _standing(found), token, already=str(already))
    except (ClashError, SessionMovedError) as gone:
        moved = isinstance(gone, SessionMovedError)
        return _taken(request, found, token, moved=moved)
    except PriceMovedError as moved_price:
        form.add_error(None, str(moved_price))
    except DomainError:  # lapsed, replaced, declined, or the job is closed
        form.add_error(None, "This quote is not open any more. Nothing was recorded.")
    else:
        return redirect("invoicing:client_quote", token)
    return _page(request, found, token, form, status=409)


def _standing(found: Quote) -> Quote:
    related = Quote.objects.select_related("job", "booking__place", "acceptance")
    return related.get(number=found.number, state=QuoteState.ACCEPTED)


def _accept(request: HttpRequest, found: Quote, form: AcceptForm) -> None:
    choice = chosen_of(request, found)
    accept_quote(
        quote_id=found.pk,
        yes=Yes(
            name=form.cleaned_data["name"],
            chosen=choice.extras,
            package=choice.package,
            may_show_pictures=form.cleaned_data["may_show"],
            agreed_minor=form.cleaned_data["agreed"] or 0,
            network_address=address_of(request),
        ),
        at=timezone.now(),
    )


def _not_yet(request: HttpRequest, snapshot: Snapshot) -> AcceptForm:
    typed: dict[str, Any] = {"name": request.POST.get("name", "")[:200]}
    typed["may_show"] = "may_show" in request.POST
    return AcceptForm(initial=typed, snapshot=snapshot)


def _page(
    request: HttpRequest,
    found: Quote,
    token: str,
    form: AcceptForm,
    *,
    status: int = 200,
) -> HttpResponse:
    context = _context(request, found, token) | {"form": form}
    return render(request, f"{PAGES}client.html", context, status=status)


def _context(request: HttpRequest, found: Quote, token: str) -> dict[str, Any]:
    snapshot = found.snapshot or {}
    choice = chosen_of(request, found)
    today = timezone.now().astimezone(StudioProfile.load().zone).date()
    printed = printed_quote(snapshot)
    late = found.valid_until_on < today
    return {
        "quote": found,
        "token": token,
        "printed": printed,
        "price": _price(snapshot, choice),
        "packages": [(one, one.place == choice.package) for one in printed.packages],
        "extras": [(one, one.line in choice.extras) for one in printed.extras],
        "late": late,
        "open": found.state == QuoteState.SENT and not late,
    }


def _price(snapshot: Snapshot, choice: Choice) -> Priced | None:
    if packages_of(snapshot) and choice.package is None:
        return None
    return priced(snapshot, content_of(snapshot, choice))


def _thanks(
    request: HttpRequest, found: Quote, token: str, *, already: str = ""
) -> HttpResponse:
    session = quoted_session((found.snapshot or {})["session"])
    context = {
        "quote": found,
        "token": token,
        "already": already,
        "session": session,
        "printed": printed_quote(found.snapshot or {}),
        "thanks": thanks_for(found, session),
    }
    status = 409 if already else 200
    return render(request, f"{PAGES}client_thanks.html", context, status=status)


def _taken(
    request: HttpRequest, found: Quote, token: str, *, moved: bool
) -> HttpResponse:
    context = {"quote": found, "token": token, "moved": moved}
    return render(request, f"{PAGES}client_taken.html", context, status=409)
