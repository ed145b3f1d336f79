"""Pages of clients."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.clients.forms import ClientForm
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, change_client
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may


@may("client.see")
@require_safe
def clients(request: HttpRequest) -> HttpResponse:
    """List the clients, or those that the words find."""
    words = request.GET.get("q", "").strip()[:100]
    found = Client.objects.matching(words) if words else Client.objects.all()
    context = {"clients": found.order_by("name")[:300], "words": words}
    return render(request, "jobs/clients/clients.html", context)


@may("client.see")
@require_safe
def client(request: HttpRequest, client_id: int) -> HttpResponse:
    """Show a client and what is open with them."""
    found = get_object_or_404(Client, pk=client_id)
    context = {
        "client": found,
        "jobs": found.jobs.order_by("-enquired_at"),
        "panels": draw_panels("client.main", staff(request), found),
    }
    return render(request, "jobs/clients/client.html", context)


@may("client.edit")
@require_http_methods(["GET", "POST"])
def client_edit(request: HttpRequest, client_id: int) -> HttpResponse:
    """Change what is known of a client."""
    found = get_object_or_404(Client, pk=client_id)
    initial = {n: getattr(found, n) for n in ClientDetails.__dataclass_fields__}
    data = request.POST if request.method == "POST" else None
    form = ClientForm(data, initial=initial)
    if form.is_valid():
        change_client(
            client_id=found.pk,
            details=form.details(),
            by=staff(request).user,
            at=timezone.now(),
        )
        messages.success(request, "The client is changed.")
        return redirect(found)
    context = {"form": form, "title": str(found), "back": found.get_absolute_url()}
    return render(request, "jobs/form.html", context)
