"""The page of one line of the bank, and what it can be said to be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from invoicing.bank import forms, operations
from invoicing.bank.models import BankLine
from invoicing.bank.queries import (
    card_payments_waiting,
    open_papers,
    row_of_line,
)
from invoicing.bank.recorded import know_payment, without_line
from invoicing.drawings.operations import move_by_line
from invoicing.periods.operations import ClosedPeriodError
from studio.errors import DomainError
from studio.forms import StudioForm
from studio.http import staff
from studio.money import decimal_from_minor, exponent
from studio.people.access import may
from studio.profile.models import StudioProfile

SAID = {
    "settle": "The money is set against its invoices.",
    "spend": "The purchase is written down.",
    "link": "The line pays that purchase.",
    "known": "The line is that payment; nothing counts twice.",
    "payout": "The payout is kept.",
    "own": "It is kept as the owner’s own money.",
    "leave": "The line is left out.",
    "ask": "The question stands on the owner’s Today.",
    "answer": "The answer is kept.",
    "reopen": "The line is open again.",
}
CLOSED = (
    "The books of that day are closed. Record it by hand with a later day, and name "
    "the real one in the note; then this line is matched with what you recorded."
)
WITHOUT_FORM = {"link", "known", "reopen"}


@may("bank.see")
@require_safe
def line(request: HttpRequest, line_id: int) -> HttpResponse:
    """Show one line, what it seems to be, and what else it can be."""
    return _page(request, _found(line_id), {}, 200)


@may("bank.match")
@require_POST
def step(request: HttpRequest, line_id: int, step: str) -> HttpResponse:
    """Say what a line is, leave it out, or ask about it."""
    found = _found(line_id)
    if step not in SAID:
        raise Http404
    form = _forms(found, request.POST).get(step)
    if form is None and step not in WITHOUT_FORM:
        messages.error(request, "Somebody has said already what this line is.")
        return redirect(found)
    if form is not None and not form.is_valid():
        return _page(request, found, {step: form}, 422)
    try:
        _act(step, found, form, request)
    except DomainError as refusal:
        said = CLOSED if isinstance(refusal, ClosedPeriodError) else str(refusal)
        if form is None:
            messages.error(request, said)
            return redirect(found)
        form.add_error(None, said)
        return _page(request, found, {step: form}, 422)
    messages.success(request, SAID[step])
    return redirect(found if step in ("ask", "answer", "reopen") else "invoicing:bank")


def _act(
    step: str, found: BankLine, form: StudioForm | None, request: HttpRequest
) -> None:
    data = form.cleaned_data if form else {}
    acts: dict[str, Callable[[], tuple[Callable[..., Any], dict[str, Any]]]] = {
        "settle": lambda: (operations.settle_line, {"papers": _chosen(form)}),
        "spend": lambda: (operations.spend_line, {"details": _details(form)}),
        "link": lambda: (
            operations.link_purchase,
            {"purchase_id": _near_purchase(found)},
        ),
        "known": lambda: (know_payment, {}),
        "payout": lambda: (operations.pay_out, {"payment_ids": data["payments"]}),
        "own": lambda: (move_by_line, {"note": data["note"]}),
        "leave": lambda: (operations.leave_line, {"because": data["because"]}),
        "ask": lambda: (operations.ask_about, {"question": data["question"]}),
        "answer": lambda: (operations.answer_about, {"answer": data["answer"]}),
        "reopen": lambda: (operations.open_again, {}),
    }
    act, arguments = acts[step]()
    act(line_id=found.pk, by=staff(request).user, at=timezone.now(), **arguments)


def _chosen(form: StudioForm | None) -> Any:
    return cast("forms.PapersForm", form).chosen()


def _details(form: StudioForm | None) -> Any:
    return cast("forms.SpendForm", form).details()


def _near_purchase(found: BankLine) -> int:
    near = row_of_line(found, [], []).purchase
    if near is None:
        raise operations.BankError("That purchase has its line already.")
    return near.pk


def _forms(found: BankLine, data: Any) -> dict[str, StudioForm]:
    """Return the forms that fit the line, by the step that they belong to."""
    made: dict[str, StudioForm] = {"ask": forms.QuestionForm(data)}
    if found.question and not found.answer:
        made["answer"] = forms.AnswerForm(data)
    if not found.is_open:
        return made
    made["leave"] = forms.LeaveForm(data)
    made["own"] = forms.OwnForm(data)
    if found.amount_minor < 0:
        made["spend"] = _purchase_form(found, data)
        return made
    papers = open_papers()
    proposal = row_of_line(found, papers, []).proposal
    ticked = [forms.key_of(one) for one in proposal.papers] if proposal else []
    made["settle"] = forms.PapersForm(
        data, papers=papers, currency=found.currency, initial={"papers": ticked}
    )
    if waiting := card_payments_waiting():
        made["payout"] = forms.PayoutForm(data, payments=waiting)
    return made


def _purchase_form(found: BankLine, data: Any) -> forms.SpendForm:
    profile = StudioProfile.load()
    gross = decimal_from_minor(-found.amount_minor, exponent(found.currency))
    return forms.SpendForm(
        data,
        profile=profile,
        today=timezone.now().astimezone(profile.zone).date(),
        initial={
            "supplier": found.party or found.text,
            "what": found.text or found.party,
            "bought_on": found.booked_on,
            "gross": gross,
        },
    )


def _page(
    request: HttpRequest, found: BankLine, refused: dict[str, StudioForm], status: int
) -> HttpResponse:
    papers = open_papers() if found.is_open else []
    context = {
        "line": found,
        "row": row_of_line(found, papers, without_line()) if found.is_open else None,
        "forms": _forms(found, None) | refused,
    }
    return render(request, "invoicing/bank/line.html", context, status=status)


def _found(line_id: int) -> BankLine:
    related = BankLine.objects.select_related(
        "payment", "purchase", "asked_by", "owner_move"
    )
    return get_object_or_404(related, pk=line_id)
