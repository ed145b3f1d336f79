"""The page on which several reminders are read before any of them goes."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from invoicing.owed.forms import OneOfManyForm
from invoicing.owed.many import Prepared, prepare
from invoicing.owed.operations import send_reminder
from invoicing.owed.queries import Chase, words_of
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

MOST = 30


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def remind_many(request: HttpRequest) -> HttpResponse:
    """Show the next reminder of each late invoice; send those that stay ticked."""
    asked = request.POST if request.method == "POST" else request.GET
    ids = [int(one) for one in asked.getlist("invoice") if one.isdecimal()][:MOST]
    on = timezone.now().astimezone(StudioProfile.load().zone).date()
    prepared = prepare(ids, on=on)
    pairs = [(chase, _form(request, chase)) for chase in prepared.chases]
    if request.method == "POST" and pairs and all(form.is_valid() for _, form in pairs):
        _send(request, pairs, prepared)
        return redirect("invoicing:money")
    context = {"pairs": pairs, "refused": prepared.refused}
    status = 422 if request.method == "POST" else 200
    return render(request, "invoicing/owed/remind_many.html", context, status=status)


def _form(request: HttpRequest, chase: Chase) -> OneOfManyForm:
    subject, words = words_of(chase)
    return OneOfManyForm(
        request.POST if request.method == "POST" else None,
        prefix=f"i{chase.invoice.pk}",
        initial={
            "goes": True,
            "step": chase.next_step,
            "subject": subject,
            "words": words,
        },
    )


def _send(
    request: HttpRequest,
    pairs: list[tuple[Chase, OneOfManyForm]],
    prepared: Prepared,
) -> None:
    sent, refused = [], list(prepared.refused)
    for chase, form in pairs:
        data = form.cleaned_data
        if not data["goes"]:
            continue
        try:
            send_reminder(
                invoice_id=chase.invoice.pk,
                step=data["step"],
                letter=(data["subject"], data["words"]),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            refused.append(str(refusal))
        else:
            sent.append(chase.row.number)
    if sent:
        messages.success(request, f"Reminders are in the outbox: {', '.join(sent)}.")
    for words in refused:
        messages.error(request, words)
    if not (sent or refused):
        messages.info(request, "No reminder was ticked, so none went.")
