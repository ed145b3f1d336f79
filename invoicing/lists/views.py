"""Pages of the money tables, and their sheets."""

from __future__ import annotations

from typing import Any, Final

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from invoicing.invoices.ageing_bar import ageing_bar
from invoicing.invoices.queries import draft_total, drafts_waiting, glance
from invoicing.lists.acts import acts_for
from invoicing.lists.columns import Look
from invoicing.lists.forms import ListForm, PapersForm, PaymentsForm, PurchasesForm
from invoicing.lists.listing import Listing, sheet_of
from invoicing.lists.papers import PAPERS
from invoicing.lists.payments import PAYMENTS
from invoicing.lists.purchases import PURCHASES
from invoicing.lists.shown import shown_table
from invoicing.purchases.models import Purchase
from studio.http import sheet_download, staff
from studio.people.access import may
from studio.people.policy import actions_of
from studio.profile.models import StudioProfile

TABLES: Final[dict[str, tuple[Listing, type[ListForm]]]] = {
    "papers": (PAPERS, PapersForm),
    "payments": (PAYMENTS, PaymentsForm),
    "purchases": (PURCHASES, PurchasesForm),
}
PAGES: Final = {
    "papers": "invoicing:money",
    "payments": "invoicing:payments",
    "purchases": "invoicing:purchases",
}
MOST_ROWS: Final = 20_000


@may("money.see")
@require_safe
def money(request: HttpRequest) -> HttpResponse:
    """Show what is owed, the late first, and what waits to be issued."""
    look = look_now()
    seen = glance(on=look.on, currency=look.profile.currency)
    return _listed(
        request,
        "papers",
        look,
        {
            "glance": seen,
            "bar": ageing_bar(seen.ageing) if seen.owed.minor else None,
            "drafts": [(draft, draft_total(draft)) for draft in drafts_waiting()],
            "on": look.on,
        },
    )


@may("money.see")
@require_safe
def payments(request: HttpRequest) -> HttpResponse:
    """Show the payments, the newest first."""
    return _listed(request, "payments", look_now(), {})


@may("purchase.see")
@require_safe
def purchases(request: HttpRequest) -> HttpResponse:
    """Show what was bought and driven, the newest first."""
    missing = Purchase.objects.without_receipt().count()
    return _listed(request, "purchases", look_now(), {"missing": missing})


@may("money.see")
@require_safe
def list_file(request: HttpRequest, which: str, kind: str) -> HttpResponse:
    """Give a table as a sheet: exactly the rows that its filter shows, on all pages."""
    if which not in TABLES:
        raise Http404
    listing, form_class = TABLES[which]
    look = look_now()
    form = form_class(request.GET, currency=look.profile.currency)
    rows = listing.rows(form.narrowed(), look)
    rows = listing.ordered(rows, request.GET.get("sort", ""))
    return sheet_answer(listing, rows[:MOST_ROWS], kind)


def sheet_answer(listing: Listing, rows: Any, kind: str) -> HttpResponse:
    """Return rows as a download of one kind."""
    look = look_now()
    head, cells = sheet_of(listing, rows, look)
    name = f"{listing.slug}-{look.on.isoformat()}"
    return sheet_download(name=name, kind=kind, head=head, rows=cells)


def look_now() -> Look:
    """Return whose tables they are, and today by the studio's clock."""
    profile = StudioProfile.load()
    return Look(profile, timezone.now().astimezone(profile.zone).date())


def _listed(
    request: HttpRequest, which: str, look: Look, context: dict[str, Any]
) -> HttpResponse:
    listing, form_class = TABLES[which]
    form = form_class(request.GET, currency=look.profile.currency)
    rows = listing.rows(form.narrowed(), look)
    asked = request.GET.dict()
    shown = {
        "form": form,
        "table": shown_table(listing, rows, look, asked),
        "ticked": bool(asked.get("tick")),
        "query": request.GET.urlencode(),
        "which": which,
        "acts": acts_for(which, actions_of(staff(request).user.hats)),
    }
    return render(request, f"invoicing/lists/{which}.html", {**context, **shown})
