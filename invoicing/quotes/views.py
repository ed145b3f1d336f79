"""The studio's pages of quotes."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.prices.models import PriceItem
from invoicing.prices.operations import price_on
from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.documents import print_quote
from invoicing.quotes.forms import (
    QuoteForm,
    QuoteLines,
    RecordYesForm,
    SendForm,
    initial_lines,
    initial_terms,
    wishes,
)
from invoicing.quotes.models import ClientQuestion, How, Quote, QuoteLine
from invoicing.quotes.operations import (
    change_quote,
    decline_quote,
    letter_for,
    missing,
    new_version,
    note_answer,
    send_quote,
    start_quote,
)
from invoicing.quotes.previewing import default_quote, preview_figures
from invoicing.quotes.printed import printed_quote
from invoicing.quotes.queries import figures_of, opened_at, worth_a_look
from invoicing.quotes.snapshots import snapshot_of
from invoicing.quotes.states import QuoteState
from jobs.jobs.models import Job
from studio.errors import DomainError
from studio.files.operations import take_scan
from studio.forms import more_lines
from studio.http import staff
from studio.mail.models import Message
from studio.money import decimal_from_minor, exponent
from studio.people.access import may
from studio.profile.models import StudioProfile

PREFIX = "line"


@may("quote.draft")
@require_http_methods(["GET", "POST"])
def quote_start(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the builder for a job without a quote; the first save makes it."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    if standing := Quote.objects.of_job(job).first():
        return redirect(standing)
    quote = default_quote(job, by=staff(request).user, at=timezone.now())
    return _builder(request, job, quote)


@may("quote.see")
@require_http_methods(["GET", "POST"])
def quote(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Show a quote: its builder while it is a draft, else what was sent."""
    found = _quote(quote_id)
    if found.state == QuoteState.DRAFT and staff(request).user.may("quote.draft"):
        return _builder(request, found.job, found)
    return _sent_page(request, found)


@may("quote.draft")
@require_POST
def quote_preview(request: HttpRequest, job_id: int) -> HttpResponse:
    """Return the totals of what is typed so far; nothing is saved."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    blank = default_quote(job, by=staff(request).user, at=timezone.now())
    form, lines = _forms(request, blank)
    context = {
        "figures": preview_figures(blank, form, lines),
        "may_see_costs": staff(request).user.may("costs.see"),
    }
    return render(request, "invoicing/quotes/_totals.html", context)


@may("quote.see")
@require_safe
def quote_pdf(request: HttpRequest, quote_id: int) -> FileResponse:
    """Give the paper of a sent quote, or what a draft would print."""
    found = _quote(quote_id)
    if found.paper:
        content = bytes(found.paper.content)
    else:
        content = print_quote(printed_quote(snapshot_of(found)))
    name = f"{found.number}-v{found.version}.pdf"
    return FileResponse(
        iter([content]),
        content_type="application/pdf",
        headers={
            "Content-Disposition": f'attachment; filename="{name}"',
            "X-Content-Type-Options": "nosniff",
        },
    )


@may("quote.send")
@require_http_methods(["GET", "POST"])
def quote_send(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Show what goes out and to whom; then send it."""
    found = _quote(quote_id)
    if found.state != QuoteState.DRAFT:
        return redirect(found)
    subject, body = letter_for(found)
    data = request.POST if request.method == "POST" else None
    form = SendForm(data, initial={"subject": subject, "body": body})
    lacks = missing(found, on=_today())
    if form.is_valid() and not lacks:
        try:
            send_quote(
                quote_id=found.pk,
                subject=form.cleaned_data["subject"],
                body=form.cleaned_data["body"],
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"{found} is on its way.")
            return redirect(found.job)
    context = {
        "quote": found,
        "job": found.job,
        "form": form,
        "missing": lacks,
        "figures": figures_of(found),
    }
    return render(request, "invoicing/quotes/send.html", context)


@may("quote.draft")
@require_POST
def quote_version(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Write the next version of a quote that went out."""
    try:
        made = new_version(quote_id=quote_id, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect("invoicing:quote", quote_id)
    return redirect(made)


@may("quote.record_yes")
@require_http_methods(["GET", "POST"])
def quote_yes(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Record a yes that came by phone, e-mail or on paper."""
    found = _quote(quote_id)
    bound = request.method == "POST"
    form = RecordYesForm(
        request.POST if bound else None,
        request.FILES if bound else None,
        quote=found,
        initial={"name": found.job.client.addressee, "how": How.PHONE},
    )
    if form.is_valid():
        at = timezone.now()
        try:
            scan = form.cleaned_data["scan"]
            kept = (
                take_scan(name=f"{found.number}-yes", content=scan.read(), at=at)
                if scan
                else None
            )
            accept_quote(
                quote_id=found.pk,
                yes=Yes(
                    name=form.cleaned_data["name"],
                    how=How(form.cleaned_data["how"]),
                    chosen=frozenset(
                        int(pk) for pk in form.cleaned_data.get("extras", [])
                    ),
                    may_show_pictures=form.cleaned_data["may_show"],
                    scan=kept,
                ),
                at=at,
                by=staff(request).user,
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The yes is recorded.")
            return redirect(found.job)
    context = {"quote": found, "job": found.job, "form": form}
    return render(request, "invoicing/quotes/yes.html", context)


@may("quote.record_yes")
@require_POST
def quote_decline(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Note that the client said no."""
    try:
        decline_quote(quote_id=quote_id, by=staff(request).user, at=timezone.now())
        messages.success(request, "The quote is noted as declined.")
    except DomainError as refusal:
        messages.error(request, str(refusal))
    return redirect("invoicing:quote", quote_id)


@may("quote.draft")
@require_POST
def question_answered(request: HttpRequest, question_id: int) -> HttpResponse:
    """Note that a client's question was answered."""
    question = get_object_or_404(ClientQuestion, pk=question_id)
    note_answer(question_id=question.pk, by=staff(request).user, at=timezone.now())
    return redirect("invoicing:quote", question.quote_id)


def _quote(quote_id: int) -> Quote:
    related = Quote.objects.select_related("job__client", "booking__place", "paper")
    return get_object_or_404(related.prefetch_related("lines"), pk=quote_id)


def _today() -> date:
    return timezone.now().astimezone(StudioProfile.load().zone).date()


def _forms(request: HttpRequest, found: Quote) -> tuple[QuoteForm, Any]:
    currency = found.currency
    if request.method == "POST":
        form = QuoteForm(request.POST, currency=currency, today=_today())
        return form, QuoteLines(request.POST, prefix=PREFIX)
    form = QuoteForm(initial=initial_terms(found), currency=currency, today=_today())
    lines = initial_lines(found) if found.pk else []
    return form, QuoteLines(initial=lines, prefix=PREFIX)


def _builder(request: HttpRequest, job: Job, found: Quote) -> HttpResponse:
    form, lines = _forms(request, found)
    if request.method != "POST":
        return _builder_page(request, job, found, (form, lines))
    if "add_line" in request.POST or "add_price" in request.POST:
        return _builder_page(request, job, found, (form, _grown(request, found)))
    if not (form.is_valid() and lines.is_valid()):
        return _builder_page(request, job, found, (form, lines), status=422)
    by, at = staff(request).user, timezone.now()
    try:
        saved = found if found.pk else start_quote(job=job, by=by, at=at)
        edit_version = form.cleaned_data["edit_version"] or saved.edit_version
        change_quote(
            quote_id=saved.pk,
            terms=form.terms(),
            lines=wishes(lines, StudioProfile.load()),
            edit_version=edit_version if found.pk else saved.edit_version,
            by=by,
            at=at,
        )
    except DomainError as refusal:
        form.add_error(None, str(refusal))
        return _builder_page(request, job, found, (form, lines), status=409)
    if "review" in request.POST and by.may("quote.send"):
        return redirect("invoicing:quote_send", saved.pk)
    messages.success(request, "The draft is saved.")
    return redirect(saved)


def _grown(request: HttpRequest, found: Quote) -> Any:
    data = more_lines(request.POST, prefix=PREFIX)
    wanted = request.POST.get("price_item", "")
    item = (
        PriceItem.objects.offered().filter(pk=int(wanted)).first()
        if wanted.isascii() and wanted.isdigit()
        else None
    )
    if item and "add_price" in request.POST:
        place = _first_empty(data)
        price = price_on(item, found.basis, StudioProfile.load())
        shown = decimal_from_minor(price, exponent(found.currency))
        row = f"{PREFIX}-{place}"
        data |= {
            f"{row}-description": item.name,
            f"{row}-detail": item.detail,
            f"{row}-quantity": "1",
            f"{row}-unit": item.unit,
            f"{row}-price": str(shown),
            f"{row}-cost_minor": str(item.cost_minor),
        }
        if item.is_extra:
            data[f"{row}-optional"] = "on"
    return QuoteLines(data, prefix=PREFIX)


def _first_empty(data: dict[str, Any]) -> int:
    total = int(data[f"{PREFIX}-TOTAL_FORMS"])
    for place in range(total):
        row = f"{PREFIX}-{place}"
        if not data.get(f"{row}-description") and not data.get(f"{row}-price"):
            return place
    return total - 1


def _builder_page(
    request: HttpRequest,
    job: Job,
    found: Quote,
    forms: tuple[QuoteForm, Any],
    *,
    status: int = 200,
) -> HttpResponse:
    form, lines = forms
    figures = preview_figures(found, form, lines)
    context = {
        "quote": found,
        "job": job,
        "form": form,
        "lines": lines,
        "figures": figures,
        "prices": PriceItem.objects.offered(),
        "notes": worth_a_look(found) if found.pk else [],
        "booking": found.booking,
        "may_see_costs": staff(request).user.may("costs.see"),
        "may_send": staff(request).user.may("quote.send"),
    }
    return render(request, "invoicing/quotes/builder.html", context, status=status)


def _sent_page(request: HttpRequest, found: Quote) -> HttpResponse:
    context = {
        "quote": found,
        "job": found.job,
        "printed": printed_quote(found.snapshot or snapshot_of(found)),
        "figures": figures_of(found),
        "acceptance": getattr(found, "acceptance", None),
        "questions": found.questions.all(),
        "mail": Message.objects.about(found),
        "opened_at": opened_at(found),
        "lines": QuoteLine.objects.filter(quote=found),
    }
    return render(request, "invoicing/quotes/quote.html", context)
