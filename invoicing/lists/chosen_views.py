"""What is done with the ticked rows of a money table."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.http import require_POST

from invoicing.invoices.finishing import finish_document
from invoicing.lists.acts import ACTS, Ticked, ticked
from invoicing.lists.documents import bound_together
from invoicing.lists.views import PAGES, TABLES, look_now, sheet_answer
from studio.http import download, staff
from studio.people.access import may


@may("money.see")
@require_POST
def list_chosen(request: HttpRequest, which: str) -> HttpResponse:
    """Do one thing with all ticked rows, or say why it was not done."""
    acts = {one.name: one for one in ACTS.get(which, ())}
    act = acts.get(request.POST.get("act", ""))
    if act is None:
        raise Http404
    if not staff(request).user.may(act.action):
        raise PermissionDenied
    found = ticked(TABLES[which][0], request.POST.getlist("chosen"), look_now())
    if found.refused or not found.rows:
        for words in found.refused or ["Tick the rows first."]:
            messages.error(request, f"{words} Nothing was done.")
        query = request.POST.get("back", "")
        return redirect(reverse(PAGES[which]) + (f"?{query}" if query else ""))
    return ANSWERS[act.name](which, found)


def _print(which: str, found: Ticked) -> HttpResponse:
    at = timezone.now()
    files = [finish_document(invoice_id=row.pk, at=at) for row in found.rows]
    return download(
        name=f"papers-{at.date().isoformat()}.pdf",
        content_type="application/pdf",
        content=bound_together(bytes(file.content) for file in files),
    )


def _sheet(which: str, found: Ticked) -> HttpResponse:
    return sheet_answer(TABLES[which][0], found.rows, "xlsx")


def _remind(which: str, found: Ticked) -> HttpResponse:
    query = urlencode({"invoice": [row.pk for row in found.rows]}, doseq=True)
    return redirect(f"{reverse('invoicing:remind_many')}?{query}")


def _waive(which: str, found: Ticked) -> HttpResponse:
    query = urlencode({"chosen": [row.pk for row in found.rows]}, doseq=True)
    return redirect(f"{reverse('invoicing:no_receipts')}?{query}")


ANSWERS = {"print": _print, "sheet": _sheet, "remind": _remind, "no-receipt": _waive}
