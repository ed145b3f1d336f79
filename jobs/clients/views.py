"""Pages of clients."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from jobs.clients.forms import ClientForm
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client, change_client
from jobs.jobs.client_lists import list_clients
from jobs.jobs.queries import jobs_of_client
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may


@may("client.see")
@require_safe
def clients(request: HttpRequest) -> HttpResponse:
    """List the clients, or those that the words find, with what is open."""
    words = request.GET.get("q", "").strip()[:100]
    page = request.GET.get("page", "1")
    context = {"list": list_clients(words, page=page), "words": words}
    return render(request, "jobs/clients/clients.html", context)


@may("client.see")
@require_safe
def client(request: HttpRequest, client_id: int) -> HttpResponse:
    """Show a client and what is open with them."""
    found = get_object_or_404(Client, pk=client_id)
    jobs = jobs_of_client(found.pk, at=timezone.now())
    context = {
        "client": found,
        "open": [job for job in jobs if job.is_open],
        "closed": [job for job in jobs if not job.is_open],
        "panels": draw_panels("client.main", staff(request), found),
    }
    return render(request, "jobs/clients/client.html", context)


@may("client.edit")
@require_http_methods(["GET", "POST"])
def client_new(request: HttpRequest) -> HttpResponse:
    """Take a client into the book who has asked for nothing yet."""
    form = ClientForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = add_client(details=form.details(), by=by, at=at)
        messages.success(request, f"{made} is in the book.")
        return redirect(made)
    context = {
        "form": form,
        "title": "New client",
        "crumbs": [(reverse("jobs:clients"), "Clients")],
        "back": reverse("jobs:clients"),
    }
    return render(request, "jobs/form.html", context)


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
    back = found.get_absolute_url()
    context = {
        "form": form,
        "title": "Change a client",
        "crumbs": [(reverse("jobs:clients"), "Clients"), (back, found.name)],
        "back": back,
    }
    return render(request, "jobs/form.html", context)
