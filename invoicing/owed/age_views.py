"""What is owed by client and age, a currency at a time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from invoicing.books.queries import currencies_of
from invoicing.lists.currencies import currency_tabs
from invoicing.owed.aged import ages_on
from invoicing.owed.ageing import ClientAge
from invoicing.owed.forms import AgesForm
from invoicing.owed.shown import age_rows, age_totals, sums_to_choose
from invoicing.owed.table import SHEET_HEAD, heads, narrowed, ordered, sheet_rows
from studio.http import sheet_download
from studio.people.access import may
from studio.profile.models import StudioProfile

PAGE: Final = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What the address asks for: the day, the currency, and who owed in it then."""

    form: AgesForm
    on: date
    currency: str
    by_currency: dict[str, list[ClientAge]]
    found: list[ClientAge]


@may("money.see")
@require_safe
def owed(request: HttpRequest) -> HttpResponse:
    """Show who owes what on a day, today or any other, by days past due."""
    seen = _seen(request)
    asked = request.GET.dict()
    page = Paginator(seen.found, PAGE).get_page(asked.get("page"))
    context = {
        "form": seen.form,
        "on": seen.on,
        "currency": seen.currency,
        "tabs": currency_tabs(
            sums_to_choose(seen.by_currency, seen.currency), seen.currency
        ),
        "heads": heads(asked),
        "sort": asked.get("sort", ""),
        "query": request.GET.urlencode(),
        "page": page,
        "rows": age_rows(list(page.object_list), seen.currency),
        "totals": age_totals(seen.found, seen.currency),
    }
    return render(request, "invoicing/owed/owed.html", context)


@may("money.see")
@require_safe
def owed_file(request: HttpRequest, kind: str) -> HttpResponse:
    """Give the same as a sheet, an invoice a row."""
    seen = _seen(request)
    rows = sheet_rows(seen.found, seen.currency)
    name = f"owed-{seen.currency}-{seen.on.isoformat()}"
    return sheet_download(name=name, kind=kind, head=SHEET_HEAD, rows=rows)


def _seen(request: HttpRequest) -> _Asked:
    profile = StudioProfile.load()
    today = timezone.now().astimezone(profile.zone).date()
    currencies = currencies_of(profile.currency)
    wanted = request.GET.get("currency", "")
    currency = wanted if wanted in currencies else profile.currency
    asked = {"on": f"{today:%Y-%m-%d}"} | request.GET.dict()
    form = AgesForm(asked, currency=currency)
    form.is_valid()
    on = form.cleaned_data.get("on") or today
    by_currency = {one: ages_on(one, on) for one in currencies}
    found = narrowed(by_currency[currency], form.cleaned_data, currency)
    return _Asked(
        form=form,
        on=on,
        currency=currency,
        by_currency=by_currency,
        found=ordered(found, request.GET.get("sort", "")),
    )
