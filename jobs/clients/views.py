"""Pages of clients."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.clients.forms import ClientForm, ContactForm, ContactLines
from jobs.clients.merging import (
    last_merge,
    merge_clients,
    preview_merge,
    undo_merge,
)
from jobs.clients.models import Client, ClientMerge
from jobs.clients.operations import (
    ClientDetails,
    add_client,
    change_client,
    list_contacts,
)
from jobs.clients.queries import doubles_of
from jobs.jobs.client_lists import list_clients
from jobs.jobs.queries import jobs_of_client
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may

LINES = "who"


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
    if found.merged_into_id:
        return redirect("jobs:client", found.merged_into_id)
    jobs = jobs_of_client(found.pk, at=timezone.now())
    context = {
        "client": found,
        "contacts": found.contacts.all(),
        "doubles": doubles_of(found),
        "merge": last_merge(found),
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


@may("client.edit")
@require_http_methods(["GET", "POST"])
def contacts(request: HttpRequest, client_id: int) -> HttpResponse:
    """Edit who else is there at a client's."""
    found = get_object_or_404(Client, pk=client_id)
    adding = "add_line" in request.POST
    if adding:
        lines = ContactLines(more_lines(request.POST, prefix=LINES), prefix=LINES)
    elif request.method == "POST":
        lines = ContactLines(request.POST, prefix=LINES)
        if lines.is_valid():
            kept = [form.contact() for form in lines.forms if _is_kept(form)]
            by, at = staff(request).user, timezone.now()
            list_contacts(client_id=found.pk, contacts=kept, by=by, at=at)
            messages.success(request, "The contacts are kept.")
            return redirect(found)
    else:
        listed = found.contacts.values("name", "role", "phone", "email")
        lines = ContactLines(initial=list(listed), prefix=LINES)
    context = {"client": found, "lines": lines, "adding": adding}
    return render(request, "jobs/clients/contacts.html", context)


def _is_kept(form: ContactForm) -> bool:
    data = form.cleaned_data
    return bool(data.get("name")) and not data.get("DELETE")


@may("client.merge")
@require_http_methods(["GET", "HEAD", "POST"])
def client_merge(request: HttpRequest, client_id: int, other_id: int) -> HttpResponse:
    """Show two clients beside each other, and let them be one."""
    standing = Client.objects.standing()
    kept = get_object_or_404(standing, pk=client_id)
    gone = get_object_or_404(standing.exclude(pk=client_id), pk=other_id)
    if request.method == "POST":
        by, at = staff(request).user, timezone.now()
        try:
            merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=by, at=at)
        except DomainError as refusal:
            messages.error(request, str(refusal))
        else:
            messages.success(request, f"{kept} and {gone} are one client now.")
        return redirect(kept)
    context = {"kept": kept, "gone": gone, "preview": preview_merge(kept, gone)}
    return render(request, "jobs/clients/merge.html", context)


@may("client.merge")
@require_POST
def merge_undo(request: HttpRequest, merge_id: int) -> HttpResponse:
    """Part two clients again that were merged."""
    merge = get_object_or_404(ClientMerge.objects.select_related("kept"), pk=merge_id)
    try:
        undo_merge(merge_id=merge.pk, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "They are two clients again.")
    return redirect(merge.kept)
