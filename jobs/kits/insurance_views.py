"""The list of kit for insurance, as CSV and on paper."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.kits.documents import print_insured
from jobs.kits.insured import HEAD, InsuredList, insured_list
from studio.http import download
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.sheets import csv_bytes


@may("kit.see")
@require_safe
def insured_csv(request: HttpRequest) -> HttpResponse:
    """Give the list as CSV, an item a row."""
    found = _list()
    return download(
        name=f"kit-{found.on.isoformat()}.csv",
        content_type="text/csv; charset=utf-8",
        content=csv_bytes(HEAD, [row.cells for row in found.rows]),
    )


@may("kit.see")
@require_safe
def insured_pdf(request: HttpRequest) -> HttpResponse:
    """Give the list on paper, with a total for each currency."""
    found = _list()
    return download(
        name=f"kit-{found.on.isoformat()}.pdf",
        content_type="application/pdf",
        content=print_insured(found),
    )


def _list() -> InsuredList:
    profile = StudioProfile.load()
    on = timezone.now().astimezone(profile.zone).date()
    return insured_list(studio=profile.trading_name, on=on)
