"""Pages of the books: the periods, one period, its lists, its closing."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.books.bases import Bases
from invoicing.books.exports import journal_csv, tax_csv
from invoicing.books.facts import Facts
from invoicing.books.figures import PeriodFigures, figures_of
from invoicing.books.forms import CodesForm
from invoicing.books.models import account_codes
from invoicing.books.open_ends import open_ends
from invoicing.books.operations import choose_codes, close_period
from invoicing.books.pack import pack_of
from invoicing.books.queries import bases_now, read_facts
from invoicing.books.shown import period_rows, shown_figures
from invoicing.periods.calendar import Span, period_of
from invoicing.periods.models import ClosedPeriod
from studio.errors import DomainError
from studio.http import download, staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("books.see")
@require_safe
def books(request: HttpRequest) -> HttpResponse:
    """List the periods with what each comes to, the current one first."""
    profile = StudioProfile.load()
    facts = read_facts(profile.currency)
    rows = period_rows(facts, profile, on=_today(profile))
    return render(request, "invoicing/books/books.html", {"rows": rows})


@may("books.see")
@require_safe
def period(request: HttpRequest, starts_on: str) -> HttpResponse:
    """Show one period: tax, money, costs, what is still open, and its lists."""
    profile = StudioProfile.load()
    figures, _, closed = _period(starts_on, profile)
    context = {
        "figures": shown_figures(figures),
        "closed": closed,
        "same": closed is None or figures.to_json() == closed.figures,
        "open_ends": open_ends(figures.span),
        "is_over": figures.span.last < _today(profile),
        "slug": starts_on,
        "panels": draw_panels("period", staff(request), closed) if closed else "",
    }
    return render(request, "invoicing/books/period.html", context)


@may("books.close")
@require_POST
def period_close(request: HttpRequest, starts_on: str) -> HttpResponse:
    """Close a period: its figures are frozen."""
    figures, _, _ = _period(starts_on, StudioProfile.load())
    try:
        close_period(span=figures.span, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{figures.span.name} is closed.")
    return redirect("invoicing:period", starts_on)


@may("books.see")
@require_safe
def period_file(request: HttpRequest, starts_on: str, name: str) -> HttpResponse:
    """Give the journal, the tax list or the whole pack of a period."""
    figures, facts, _ = _period(starts_on, StudioProfile.load())
    if name == "journal.csv":
        content = journal_csv(
            figures.entries, currency=figures.currency, codes=account_codes()
        )
    elif name == "tax.csv":
        content = tax_csv(figures.tax, currency=figures.currency)
    elif name != "pack.zip":
        raise Http404
    else:
        content = pack_of(figures, facts, at=timezone.now())
    kind = "application/zip" if name == "pack.zip" else "text/csv; charset=utf-8"
    return download(name=f"{starts_on}-{name}", content_type=kind, content=content)


@may("books.close")
@require_http_methods(["GET", "POST"])
def codes(request: HttpRequest) -> HttpResponse:
    """Show the accounts of the journal, and let their codes be changed."""
    data = request.POST if request.method == "POST" else None
    before = account_codes()
    registered = StudioProfile.load().tax_registered
    form = CodesForm(data, initial=before, registered=registered)
    if form.is_valid():
        chosen = {**before, **form.cleaned_data}
        choose_codes(codes=chosen, by=staff(request).user, at=timezone.now())
        messages.success(request, "The account codes are kept.")
        return redirect("invoicing:books")
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/books/codes.html", {"form": form}, status=status)


def _period(
    starts_on: str, profile: StudioProfile
) -> tuple[PeriodFigures, Facts, ClosedPeriod | None]:
    """Return a period's figures, fresh from the rows; a closed one keeps its basis."""
    first = _day(starts_on)
    closed = ClosedPeriod.objects.filter(starts_on=first).first()
    if closed:
        span = Span(closed.starts_on, closed.ends_on)
        bases = Bases.of_closed(closed.figures)
    else:
        span = period_of(
            first,
            months=profile.period_months,
            first_month=profile.period_first_month,
        )
        bases = bases_now(profile.tax_basis)
    if span.first != first:
        raise Http404
    facts = read_facts(closed.figures["currency"] if closed else profile.currency)
    return figures_of(facts, span, bases=bases), facts, closed


def _day(written: str) -> date:
    try:
        return date.fromisoformat(written)
    except ValueError as fault:
        raise Http404 from fault


def _today(profile: StudioProfile) -> date:
    return timezone.now().astimezone(profile.zone).date()
