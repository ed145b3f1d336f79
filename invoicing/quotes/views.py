"""The studio's pages of a quote: as it stands, its paper, its sending, its yes."""

from __future__ import annotations

from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.answer_forms import RecordNoForm, RecordYesForm, SendForm
from invoicing.quotes.asking import note_answer
from invoicing.quotes.builder_views import builder_page, studio_today
from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.documents import print_quote
from invoicing.quotes.figures import every_figures_of
from invoicing.quotes.letters import live_link
from invoicing.quotes.models import Acceptance, ClientQuestion, How, Quote
from invoicing.quotes.operations import new_version
from invoicing.quotes.printed import PrintedQuote, printed_quote, printed_yes
from invoicing.quotes.queries import opened_at
from invoicing.quotes.sending import LetterWords, letter_for, missing, send_quote
from invoicing.quotes.snapshots import snapshot_of
from invoicing.quotes.states import QuoteState
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.files.operations import take_scan
from studio.http import staff
from studio.links.operations import token_of
from studio.mail.letters import link_address
from studio.mail.models import Message
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("quote.see")
@require_http_methods(["GET", "POST"])
def quote(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Show a quote: its builder while it is a draft, else what was sent."""
    found = _quote(quote_id)
    person = staff(request).user
    if found.state == QuoteState.DRAFT and person.may("quote.draft"):
        return builder_page(request, found)
    if request.method == "POST" and found.state != QuoteState.DRAFT:
        messages.error(request, "This version has gone out meanwhile.")
        return redirect(found)
    at = timezone.now()
    link = live_link(found, at=at) if person.may("quote.send") else None
    public = StudioProfile.load().public_address
    context = {
        "quote": found,
        "job": found.job,
        "printed": _printed(found),
        "every_figures": every_figures_of(found),
        "acceptance": getattr(found, "acceptance", None),
        "questions": found.questions.all(),
        "mail": Message.objects.about(found),
        "opened_at": opened_at(found),
        "page_token": token_of(link) if link else "",
        "page_address": link_address(link, public) if link and public else "",
        "is_lapsed": found.valid_until_on < studio_today(),
    }
    return render(request, "invoicing/quotes/quote.html", context)


@may("quote.see")
@require_safe
def quote_pdf(request: HttpRequest, quote_id: int) -> FileResponse:
    """Give the paper: what was sent, with its yes, or what a draft would print."""
    return paper_of(_quote(quote_id))


@may("quote.see")
@require_safe
def quote_scan(request: HttpRequest, quote_id: int) -> FileResponse:
    """Give the scan of a yes on paper."""
    acceptance = get_object_or_404(
        Acceptance.objects.select_related("scan"), quote_id=quote_id, scan__isnull=False
    )
    scan = acceptance.scan
    ending = "pdf" if scan and scan.content_type == "application/pdf" else "jpg"
    return _file(scan, f"{acceptance.quote.number}-yes.{ending}")


@may("quote.send")
@require_http_methods(["GET", "POST"])
def quote_send(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Show what goes out and to whom; then send it, or note that it is given."""
    found = _quote(quote_id)
    if found.state != QuoteState.DRAFT:
        return redirect(found)
    by_hand = "by_hand" in request.POST
    data = request.POST if request.method == "POST" and not by_hand else None
    words = letter_for(found)
    initial = {"subject": words.subject, "body": words.body}
    has_page = bool(StudioProfile.load().public_address)
    form = SendForm(data, initial=initial, has_page=has_page)
    lacks = missing(found, on=studio_today())
    refused = ""
    if by_hand or form.is_valid():
        try:
            _send(request, found, None if by_hand else form)
        except DomainError as refusal:
            refused = str(refusal)
        else:
            said = "is noted as given" if by_hand else "is on its way"
            messages.success(request, f"{found} {said}.")
            return redirect("invoicing:quote", found.pk)
    context = {
        "quote": found,
        "job": found.job,
        "form": form,
        "missing": lacks,
        "missing_by_hand": missing(found, on=studio_today(), by_mail=False),
        "refused": refused,
        "printed": _printed(found),
        "has_page": has_page,
    }
    status = 409 if refused else 200
    return render(request, "invoicing/quotes/send.html", context, status=status)


@may("quote.draft")
@require_POST
def quote_version(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Write the next version of a quote that went out."""
    found = _quote(quote_id)
    try:
        made = new_version(quote_id=found.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect(found)
    return redirect(made)


@may("quote.record_yes")
@require_http_methods(["GET", "POST"])
def quote_yes(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Record a yes that came by phone, e-mail or on paper."""
    found = _quote(quote_id)
    if found.state not in (QuoteState.SENT, QuoteState.LAPSED):
        return redirect(found)
    at = timezone.now()
    local = at.astimezone(StudioProfile.load().zone)
    form = RecordYesForm(
        request.POST if request.method == "POST" else None,
        request.FILES if request.method == "POST" else None,
        quote=found,
        now=at,
        initial={
            "name": found.job.client.addressee,
            "said_on": local.date(),
            "said_at": local.time(),
        },
    )
    if form.is_valid():
        try:
            _record_yes(request, found, form)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The yes is recorded.")
            return redirect(found)
    context = {
        "quote": found,
        "job": found.job,
        "form": form,
        "is_lapsed": found.valid_until_on < studio_today(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/quotes/yes.html", context, status=status)


@may("quote.record_yes")
@require_http_methods(["GET", "POST"])
def quote_decline(request: HttpRequest, quote_id: int) -> HttpResponse:
    """Note that the client said no, and why."""
    found = _quote(quote_id)
    if found.state != QuoteState.SENT:
        return redirect(found)
    form = RecordNoForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        no = No(reason=form.cleaned_data["reason"], words=form.cleaned_data["words"])
        by, at = staff(request).user, timezone.now()
        try:
            decline_quote(quote_id=found.pk, no=no, by=by, at=at)
        except DomainError as refusal:
            messages.error(request, str(refusal))
        else:
            messages.success(request, "The quote is noted as declined.")
        return redirect(found)
    context = {"quote": found, "job": found.job, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "invoicing/quotes/no.html", context, status=status)


@may("quote.draft")
@require_POST
def question_answered(request: HttpRequest, question_id: int) -> HttpResponse:
    """Note that a client's question was answered."""
    question = get_object_or_404(ClientQuestion, pk=question_id)
    note_answer(question_id=question.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "The question is noted as answered.")
    return redirect("invoicing:quote", question.quote_id)


def paper_of(found: Quote) -> FileResponse:
    """Answer with a quote's paper: stored as sent, or with the yes it got since."""
    name = f"{found.number}-v{found.version}.pdf"
    acceptance = getattr(found, "acceptance", None)
    if acceptance or not found.paper:
        content = print_quote(_printed(found))
        if acceptance:
            name = f"{found.number}-accepted.pdf"
        return _download(content, name, "application/pdf")
    return _file(found.paper, name)


def _printed(found: Quote) -> PrintedQuote:
    snapshot = found.snapshot or snapshot_of(found, on=studio_today())
    acceptance = getattr(found, "acceptance", None)
    zone = StudioProfile.load().zone
    yes = printed_yes(snapshot, acceptance, zone) if acceptance else None
    return printed_quote(snapshot, accepted=yes)


def _send(request: HttpRequest, found: Quote, form: SendForm | None) -> None:
    letter = (
        LetterWords(
            subject=form.cleaned_data["subject"], body=form.cleaned_data["body"]
        )
        if form
        else None
    )
    by, at = staff(request).user, timezone.now()
    send_quote(quote_id=found.pk, letter=letter, by=by, at=at)


def _record_yes(request: HttpRequest, found: Quote, form: RecordYesForm) -> None:
    data, at = form.cleaned_data, timezone.now()
    scan = data["scan"]
    kept = None
    if scan:
        name = f"{found.number}-yes"
        kept = take_scan(name=name, content=scan.read(), at=at)
    yes = Yes(
        name=data["name"],
        how=How(data["how"]),
        chosen=frozenset(int(pk) for pk in data.get("extras", [])),
        package=data.get("package"),
        may_show_pictures=data["may_show"],
        said_at=form.instant,
        scan=kept,
    )
    accept_quote(quote_id=found.pk, yes=yes, at=at, by=staff(request).user)


def _quote(quote_id: int) -> Quote:
    related = Quote.objects.select_related(
        "job__client", "booking__place", "paper", "acceptance__recorded_by"
    )
    return get_object_or_404(related.prefetch_related("lines"), pk=quote_id)


def _file(file: StoredFile | None, name: str) -> FileResponse:
    content = bytes(file.content) if file else b""
    kind = file.content_type if file else "application/octet-stream"
    return _download(content, name, kind)


def _download(content: bytes, name: str, content_type: str) -> FileResponse:
    return FileResponse(
        iter([content]),
        content_type=content_type,
        headers={
            "Content-Disposition": f'attachment; filename="{_plain(name)}"',
            "X-Content-Type-Options": "nosniff",
        },
    )


def _plain(name: str) -> str:
    kept = (
        sign if sign.isascii() and (sign.isalnum() or sign in "-._") else "-"
        for sign in name
    )
    return "".join(kept)
