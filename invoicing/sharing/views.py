"""Pages on which the pack of a closed period is handed out and taken back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from invoicing.periods.models import ClosedPeriod
from invoicing.sharing.forms import LetterForm, ReaderForm
from invoicing.sharing.models import PackShare
from invoicing.sharing.operations import close_share, share_pack
from invoicing.sharing.queries import parts_of, span_of, words_for
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("books.close")
@require_http_methods(["GET", "POST"])
def share_new(request: HttpRequest, period_id: int) -> HttpResponse:
    """Ask who gets the pack, show the letter, and send it when it was read."""
    period = get_object_or_404(ClosedPeriod, pk=period_id)
    reader = ReaderForm(request.POST if request.method == "POST" else None)
    if not reader.is_valid():
        return _page(request, period, reader, None)
    if reader.reader.address and "go" not in request.POST:
        until = timezone.now() + reader.reader.lasts
        subject, words = words_for(period, reader.reader.name, until=until)
        letter = LetterForm(initial={"subject": subject, "words": words})
        return _page(request, period, reader, letter)
    letter = LetterForm(request.POST)
    if reader.reader.address and not letter.is_valid():
        return _page(request, period, reader, letter)
    return _share(request, period, reader, letter)


@may("books.close")
@require_POST
def share_close(request: HttpRequest, share_id: int) -> HttpResponse:
    """Take a private page away."""
    share = get_object_or_404(PackShare.objects.select_related("period"), pk=share_id)
    close_share(share_id=share.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, f"The page of {share.name} is closed.")
    return _back(share.period)


def _share(
    request: HttpRequest, period: ClosedPeriod, reader: ReaderForm, letter: LetterForm
) -> HttpResponse:
    data = letter.cleaned_data if letter.is_valid() else {}
    try:
        share = share_pack(
            period_id=period.pk,
            reader=reader.reader,
            letter=(data.get("subject", ""), data.get("words", "")),
            by=staff(request).user,
            at=timezone.now(),
        )
    except DomainError as refusal:
        (letter if data else reader).add_error(None, str(refusal))
        return _page(request, period, reader, letter if data else None)
    done = "The letter is in the outbox." if share.message else "The page is open."
    messages.success(request, done)
    return _back(period)


def _page(
    request: HttpRequest,
    period: ClosedPeriod,
    reader: ReaderForm,
    letter: LetterForm | None,
) -> HttpResponse:
    context = {
        "period": period,
        "span": span_of(period),
        "reader": reader,
        "letter": letter,
        "parts": parts_of(period),
    }
    wrong = reader.errors or (letter is not None and letter.errors)
    status = 422 if reader.is_bound and wrong else 200
    return render(request, "invoicing/sharing/share.html", context, status=status)


def _back(period: ClosedPeriod) -> HttpResponse:
    return redirect("invoicing:period", period.starts_on.isoformat())
