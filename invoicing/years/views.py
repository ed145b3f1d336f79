"""Pages of a year of income, and its sheets."""

from __future__ import annotations

from datetime import date, timedelta

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from invoicing.books.models import account_codes
from invoicing.books.queries import read_facts
from invoicing.periods.calendar import Span
from invoicing.years.figures import YearFigures, year_figures, year_of
from invoicing.years.queries import driven, taxed_papers
from invoicing.years.shown import (
    SHEET_HEAD,
    code_of,
    document_rows,
    name_of,
    sheet_rows,
    shown_year,
    slug_of,
    span_words,
)
from studio.http import sheet_download
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("books.see")
@require_safe
def years(request: HttpRequest) -> HttpResponse:
    """Lead to the year of today; a studio that files tax by periods has none."""
    profile = StudioProfile.load()
    if profile.tax_registered:
        messages.info(request, "Your books are settled by period: see below.")
        return redirect("invoicing:books")
    return redirect("invoicing:year", _span(profile, _today(profile)).first.isoformat())


@may("books.see")
@require_safe
def year(request: HttpRequest, starts_on: str) -> HttpResponse:
    """Show a year: income and costs by kind, private shares, profit, own money."""
    profile, found = _year(starts_on)
    span = found.span
    after = span.last + timedelta(days=1)
    context = {
        "year": shown_year(found, account_codes()),
        "is_running": span.last >= _today(profile),
        "before": _span(profile, span.first - timedelta(days=1)).first.isoformat(),
        "after": after.isoformat() if after <= _today(profile) else "",
        "distance": driven(span),
        "taxed": taxed_papers(span),
    }
    return render(request, "invoicing/years/year.html", context)


@may("books.see")
@require_safe
def year_figure(request: HttpRequest, starts_on: str, figure: str) -> HttpResponse:
    """Show the documents that one figure is made of."""
    _, found = _year(starts_on)
    for one in found.figures:
        if slug_of(one.of) == figure:
            context = {
                "slug": starts_on,
                "year_name": span_words(found.span.first, found.span.last),
                "name": name_of(one.of),
                "code": code_of(one.of, account_codes()),
                "rows": document_rows(one, found.currency),
                "sum": Money.from_minor(one.minor, found.currency),
                "has_private": bool(one.private_minor),
            }
            return render(request, "invoicing/years/figure.html", context)
    raise Http404


@may("books.see")
@require_safe
def year_file(request: HttpRequest, starts_on: str, kind: str) -> HttpResponse:
    """Give every document of the year as a sheet."""
    _, found = _year(starts_on)
    rows = sheet_rows(found, account_codes())
    name = f"year-{starts_on}"
    return sheet_download(name=name, kind=kind, head=SHEET_HEAD, rows=rows)


def _year(starts_on: str) -> tuple[StudioProfile, YearFigures]:
    profile = StudioProfile.load()
    try:
        first = date.fromisoformat(starts_on)
    except ValueError as fault:
        raise Http404 from fault
    if profile.tax_registered or not 1980 <= first.year <= 2200:
        raise Http404
    span = _span(profile, first)
    if span.first != first:
        raise Http404
    return profile, year_figures(read_facts(profile.currency), span)


def _span(profile: StudioProfile, on: date) -> Span:
    return year_of(on, month=profile.year_first_month, day=profile.year_first_day)


def _today(profile: StudioProfile) -> date:
    return timezone.now().astimezone(profile.zone).date()
