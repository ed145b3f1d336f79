"""A client's statement on paper, and the letter that takes it to them."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.owed.documents import print_statement
from invoicing.owed.forms import SpanForm
from invoicing.owed.statements import (
    Statement,
    printed_statement,
    statement_words,
)
from invoicing.owed.views import statement_asked
from invoicing.payments.forms import SendForm
from invoicing.payments.receipts import send_paper
from jobs.clients.models import Client
from studio.files.operations import store_file
from studio.http import download, staff
from studio.people.access import may

PDF = "application/pdf"


@may("money.see")
@require_safe
def statement_pdf(request: HttpRequest, client_id: int) -> HttpResponse:
    """Give a client's statement as a PDF."""
    found = _asked(request, client_id)
    content = print_statement(printed_statement(found))
    return download(name=found.file_name, content_type=PDF, content=content)


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def statement_send(request: HttpRequest, client_id: int) -> HttpResponse:
    """Show the letter that takes the statement to the client; send it as edited."""
    found = _asked(request, client_id)
    form = SendForm(
        request.POST if request.method == "POST" else None,
        initial=statement_words(found),
    )
    back_path = f"{reverse('invoicing:account', args=[client_id])}?{found.query}"
    if form.is_valid():
        at = timezone.now()
        content = print_statement(printed_statement(found))
        file = store_file(
            name=found.file_name, content_type=PDF, content=content, at=at
        )
        send_paper(
            about=found.client,
            file=file,
            said=form.cleaned_data | {"name": found.client.addressee},
            by=staff(request).user,
            at=at,
        )
        messages.success(request, "The statement is in the outbox.")
        return redirect(back_path)
    paper = reverse("invoicing:statement_pdf", args=[client_id])
    context = {
        "form": form,
        "about": found.client,
        "about_name": f"Account of {found.client}",
        "title": "Send the statement",
        "paper_path": f"{paper}?{found.query}",
        "back_path": back_path,
    }
    return render(request, "invoicing/payments/send.html", context)


def _asked(request: HttpRequest, client_id: int) -> Statement:
    client = get_object_or_404(Client, pk=client_id)
    return statement_asked(client, SpanForm(request.GET or None))
