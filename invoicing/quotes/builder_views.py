"""The page on which a quote is written."""

from __future__ import annotations

from datetime import date
from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from invoicing.prices.models import PriceItem, PriceKind
from invoicing.quotes.builder import Builder, with_heads
from invoicing.quotes.figures import figures_of
from invoicing.quotes.line_forms import UNITS
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import (
    StaleQuoteError,
    blank_quote,
    change_quote,
    start_quote,
)
from invoicing.quotes.proposals import (
    Proposed,
    journey_to,
    offered_as_package,
    proposed_from,
    proposed_travel,
)
from jobs.bookings.operations import StaleBookingError
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.wording import currency_sign

GROWS: Final = (
    *("add_line", "add_price", "add_travel"),
    *("add_package", "offer_package"),
)
APART: Final = (PriceKind.PACKAGE, PriceKind.TRAVEL)
LONGEST_NAME: Final = 120


@may("quote.draft")
@require_http_methods(["GET", "POST"])
def quote_start(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the builder for a job without a quote; the first save makes it."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    standing = Quote.objects.of_job(job).first()
    if standing and request.method == "GET":
        return redirect(standing)
    blank = blank_quote(job, by=staff(request).user, at=timezone.now())
    return builder_page(request, blank)


@may("quote.draft")
@require_POST
def quote_preview(request: HttpRequest, job_id: int) -> HttpResponse:
    """Return the totals of what is typed so far; nothing is saved."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    drafts = Quote.objects.of_job(job).filter(state="DRAFT").prefetch_related("lines")
    quote = drafts.select_related("booking__place").first() or blank_quote(
        job, by=staff(request).user, at=timezone.now()
    )
    builder = _builder(request, quote)
    context = {
        "preview": builder.preview(),
        "may_see_costs": builder.desk.shows_costs,
        "live": True,
    }
    return render(request, "invoicing/quotes/_preview.html", context)


def builder_page(request: HttpRequest, quote: Quote) -> HttpResponse:
    """Show a draft, or save what was posted."""
    builder = _builder(request, quote)
    if request.method != "POST":
        return _shown(request, builder)
    if any(name in request.POST for name in GROWS):
        builder.grow(_proposed(request, builder))
        return _shown(request, builder)
    if not builder.is_valid():
        return _shown(request, builder, status=422)
    try:
        saved = _save(request, builder)
    except DomainError as refusal:
        builder.form.add_error(None, str(refusal))
        stale = isinstance(refusal, StaleQuoteError | StaleBookingError)
        return _shown(request, builder, status=409, stale=stale)
    if "review" in request.POST and staff(request).user.may("quote.send"):
        return redirect("invoicing:quote_send", saved.pk)
    messages.success(request, "The draft is saved.")
    return redirect(saved)


def studio_today() -> date:
    """Return the day by the studio's clock."""
    return timezone.now().astimezone(StudioProfile.load().zone).date()


def _save(request: HttpRequest, builder: Builder) -> Quote:
    by, at, quote = staff(request).user, timezone.now(), builder.quote
    if quote.pk is None:
        return start_quote(job=quote.job, by=by, at=at, wish=builder.wish())
    return change_quote(
        quote_id=quote.pk,
        wish=builder.wish(),
        edit_version=builder.form.cleaned_data["edit_version"] or 0,
        by=by,
        at=at,
    )


def _builder(request: HttpRequest, quote: Quote) -> Builder:
    return Builder(
        quote,
        today=studio_today(),
        shows_costs=staff(request).user.may("costs.see"),
        posted=request.POST.dict() if request.method == "POST" else None,
    )


def _proposed(request: HttpRequest, builder: Builder) -> list[Proposed]:
    on, quote = builder.tax_day(), builder.quote
    if "add_travel" in request.POST:
        journey = journey_to(builder.session())
        return proposed_travel(journey, quote, on=on) if journey else []
    field = "price_item" if "add_price" in request.POST else "package_item"
    item = None if "add_line" in request.POST else _chosen_item(request, field)
    if item is None:
        return []
    lines = proposed_from(item, quote, on=on)
    if "offer_package" in request.POST:
        return offered_as_package(lines, item.name[:LONGEST_NAME])
    return lines


def _chosen_item(request: HttpRequest, field: str) -> PriceItem | None:
    wanted = request.POST.get(field, "")
    if not wanted.isascii():
        return None
    known = wanted.isdigit() and len(wanted) < 18
    return PriceItem.objects.offered().filter(pk=wanted).first() if known else None


def _shown(
    request: HttpRequest, builder: Builder, *, status: int = 200, stale: bool = False
) -> HttpResponse:
    quote, preview = builder.quote, builder.preview()
    theirs = None
    if stale:
        theirs = Quote.objects.prefetch_related("lines").get(pk=quote.pk)
        builder.renew_versions(theirs)
    offered = list(PriceItem.objects.offered())
    context = {
        "quote": quote,
        "job": quote.job,
        "form": builder.form,
        "lines": builder.lines,
        "rows": with_heads(builder.lines.forms, preview.amounts),
        "preview": preview,
        "prices": [one for one in offered if one.kind not in APART],
        "packages": [one for one in offered if one.kind == PriceKind.PACKAGE],
        "package_names": builder.package_names(),
        "units": UNITS,
        "sign": currency_sign(quote.currency),
        "theirs": theirs,
        "their_figures": figures_of(theirs) if theirs else None,
        "session_is_held": builder.session_is_held,
        "shows_rate": len(builder.desk.rates) > 1,
        "may_see_costs": builder.desk.shows_costs,
        "may_send": staff(request).user.may("quote.send"),
    }
    return render(request, "invoicing/quotes/builder.html", context, status=status)
