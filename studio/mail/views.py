"""Mail: what was sent, what waits, and what needs a look."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from studio.errors import DomainError
from studio.http import staff
from studio.mail.models import Message
from studio.mail.operations import note_arrival, send_again
from studio.mail.queries import SHOWS, list_messages, show_message
from studio.people.access import may
from studio.profile.models import StudioProfile


@may("mail.see")
@require_safe
def mail(request: HttpRequest) -> HttpResponse:
    """List the messages of the outbox, newest first."""
    wanted = request.GET.get("show", "all")
    show = wanted if wanted in dict(SHOWS) else "all"
    page = request.GET.get("page", "1")
    context = {
        "mail": list_messages(show=show, page=int(page) if page.isdecimal() else 1),
        "show": show,
        "shows": SHOWS,
        "zone": StudioProfile.load().zone,
    }
    return render(request, "studio/mail/mail.html", context)


@may("mail.see")
@require_safe
def message(request: HttpRequest, message_id: int) -> HttpResponse:
    """Show one message: its text, its papers, and what became of it."""
    row = get_object_or_404(Message, pk=message_id)
    context = {"mail": show_message(row), "zone": StudioProfile.load().zone}
    return render(request, "studio/mail/message.html", context)


@may("mail.resend")
@require_POST
def message_again(request: HttpRequest, message_id: int) -> HttpResponse:
    """Let a message go again."""
    row = get_object_or_404(Message, pk=message_id)
    try:
        send_again(message_id=row.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "The message goes out again within a minute.")
    return redirect("studio:message", row.pk)


@may("mail.resend")
@require_POST
def message_arrived(request: HttpRequest, message_id: int) -> HttpResponse:
    """Note that a doubtful message has arrived."""
    row = get_object_or_404(Message, pk=message_id)
    try:
        note_arrival(message_id=row.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "Noted: the message has arrived.")
    return redirect("studio:message", row.pk)
