"""Pages of the bank: its open lines, and reading a statement."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.bank.forms import ColumnsForm, StatementForm
from invoicing.bank.models import BankLine, BankStatement
from invoicing.bank.operations import ReadIn, keep_statement, settle_line
from invoicing.bank.queries import open_rows
from invoicing.bank.reading import (
    StatementLine,
    guess_columns,
    read_camt,
    read_lines,
)
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.http import staff
from studio.money import Money
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.tables import read_table

SHOWN = 5
KIND = "text/csv"


@may("bank.see")
@require_safe
def bank(request: HttpRequest) -> HttpResponse:
    """List the lines that nobody has explained, each with what it seems to be."""
    rows = open_rows()
    context = {
        "rows": rows,
        "sure": sum(1 for row in rows if row.is_sure),
        "done": BankLine.objects.select_related("payment", "purchase", "owner_move")
        .exclude(pk__in=[row.line.pk for row in rows])
        .prefetch_related("payout_payments")[:20],
    }
    return render(request, "invoicing/bank/bank.html", context)


@may("bank.match")
@require_http_methods(["GET", "POST"])
def statement_new(request: HttpRequest) -> HttpResponse:
    """Take a statement in; a CSV is asked for its columns next."""
    form = StatementForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        sent = form.cleaned_data["file"]
        content = sent.read()
        try:
            return _taken(request, sent.name, content)
        except DomainError as refusal:
            form.add_error("file", str(refusal))
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/bank/read.html", {"form": form}, status=status)


@may("bank.match")
@require_http_methods(["GET", "POST"])
def statement_columns(request: HttpRequest, file_id: int) -> HttpResponse:
    """Show what the columns seem to mean, and read the lines when it is right."""
    waiting = StoredFile.objects.filter(content_type=KIND)
    file = get_object_or_404(waiting, pk=file_id)
    if BankStatement.objects.filter(file=file).exists():
        return redirect("invoicing:bank")
    currency = StudioProfile.load().currency
    table = read_table(bytes(file.content))
    guess = guess_columns(table, currency)
    form = ColumnsForm(
        request.POST if request.method == "POST" else None,
        table=table,
        initial=ColumnsForm.initial_of(guess),
    )
    columns = form.columns() if form.is_valid() else guess
    lines, bad = read_lines(table, columns, currency)
    if form.is_valid() and "keep" in request.POST and not bad:
        _tell(request, _keep(request, file, file.name, lines))
        return redirect("invoicing:bank")
    context = {
        "form": form,
        "lines": [
            (line, Money.from_minor(line.amount_minor, currency))
            for line in lines[:SHOWN]
        ],
        "count": len(lines),
        "bad": bad[:20],
        "bad_count": len(bad),
        "currency": currency,
    }
    status = 422 if form.is_bound and (bad or not form.is_valid()) else 200
    return render(request, "invoicing/bank/columns.html", context, status=status)


@may("bank.match")
@require_POST
def settle_sure(request: HttpRequest) -> HttpResponse:
    """Settle every line whose number or name and sum agree."""
    settled = 0
    for row in open_rows():
        if not (row.is_sure and row.proposal):
            continue
        try:
            settle_line(
                line_id=row.line.pk,
                papers=row.proposal.papers,
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            messages.error(request, f"{row.line}: {refusal}")
        else:
            settled += 1
    if settled:
        said = f"{settled} line{'s' if settled != 1 else ''} settled."
        messages.success(request, said)
    return redirect("invoicing:bank")


def _taken(request: HttpRequest, name: str, content: bytes) -> HttpResponse:
    at, currency = timezone.now(), StudioProfile.load().currency
    if content.lstrip()[:5].lower().startswith((b"<?xml", b"<docu")):
        lines = read_camt(content, currency)
        file = store_file(
            name=name[:200], content_type="application/xml", content=content, at=at
        )
        _tell(request, _keep(request, file, name, lines))
        return redirect("invoicing:bank")
    read_table(content)
    file = store_file(name=name[:200], content_type=KIND, content=content, at=at)
    return redirect("invoicing:bank_columns", file.pk)


def _keep(
    request: HttpRequest, file: StoredFile, name: str, lines: list[StatementLine]
) -> ReadIn:
    return keep_statement(
        file=file,
        name=name[:200],
        lines=lines,
        currency=StudioProfile.load().currency,
        by=staff(request).user,
        at=timezone.now(),
    )


def _tell(request: HttpRequest, read: ReadIn) -> None:
    said = f"{read.new} new line{'s' if read.new != 1 else ''}."
    if read.known:
        said += f" {read.known} were read before."
    messages.success(request, said)
