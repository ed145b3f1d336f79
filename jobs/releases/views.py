"""The studio's pages of sitters, and what they are asked."""

from __future__ import annotations

from datetime import date
from typing import Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_safe,
)

from jobs.clients.models import Client
from jobs.releases.forms import (
    ReleaseForm,
    SitterForm,
)
from jobs.releases.models import AllowedUse, PictureUse, Sitter
from jobs.releases.operations import (
    SitterDetails,
    add_sitter,
    change_sitter,
    make_release,
)
from jobs.releases.queries import use_row
from studio.errors import DomainError
from studio.forms import StudioForm
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

PAGES: Final = "jobs/releases/"


@may("release.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def sitter_new(request: HttpRequest, client_id: int) -> HttpResponse:
    """Take somebody into the book who is photographed."""
    client = get_object_or_404(Client.objects.standing(), pk=client_id)
    form = SitterForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = add_sitter(client=client, details=form.details(), by=by, at=at)
        messages.success(request, f"{made} is in the book.")
        return redirect(made)
    crumbs = [(client.get_absolute_url(), client.name)]
    return form_page(request, form, "Somebody who is photographed", crumbs)


@may("release.see")
@require_safe
def sitter(request: HttpRequest, sitter_id: int) -> HttpResponse:
    """Show a sitter, what they allow, and where their pictures went."""
    found = _sitter(sitter_id)
    on = studio_today()
    uses = AllowedUse.objects.filter(release__sitter=found).select_related("release")
    context = {
        "sitter": found,
        "releases": found.releases.all(),
        "uses": [use_row(one, on=on) for one in uses.order_by("-release", "pk")],
        "pictures": pictures_of(allowed__release__sitter=found),
    }
    return render(request, f"{PAGES}sitter.html", context)


@may("release.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def sitter_edit(request: HttpRequest, sitter_id: int) -> HttpResponse:
    """Change what is known of a sitter."""
    found = _sitter(sitter_id)
    initial = {n: getattr(found, n) for n in SitterDetails.__dataclass_fields__}
    data = request.POST if request.method == "POST" else None
    form = SitterForm(data, initial=initial)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        change_sitter(sitter_id=found.pk, details=form.details(), by=by, at=at)
        messages.success(request, "It is changed.")
        return redirect(found)
    return form_page(request, form, f"Change {found.name}", crumbs_of(found))


@may("release.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def release_new(request: HttpRequest, sitter_id: int) -> HttpResponse:
    """Ask what somebody is to allow, and write the release out."""
    found = _sitter(sitter_id)
    form = ReleaseForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        try:
            made = make_release(sitter_id=found.pk, asked=form.asked(), by=by, at=at)
        except DomainError as refusal:
            form.add_error("until_on", str(refusal))
        else:
            return redirect(made)
    title = f"Ask {found.signer} for a release"
    return form_page(request, form, title, crumbs_of(found), verb="Write it out")


def form_page(
    request: HttpRequest,
    form: StudioForm,
    title: str,
    crumbs: list[tuple[str, str]],
    verb: str = "Save",
) -> HttpResponse:
    """Answer with a form on a page of its own."""
    crumbs = [(reverse("jobs:clients"), "Clients"), *crumbs]
    context = {
        "form": form,
        "title": title,
        "crumbs": crumbs,
        "back": crumbs[-1][0],
        "verb": verb,
    }
    return render(request, f"{PAGES}form.html", context)


def crumbs_of(sitter: Sitter) -> list[tuple[str, str]]:
    """Return the way from a client to a sitter."""
    client = sitter.client
    return [
        (client.get_absolute_url(), client.name),
        (sitter.get_absolute_url(), sitter.name),
    ]


def studio_today() -> date:
    """Return the day by the studio's clock."""
    return timezone.now().astimezone(StudioProfile.load().zone).date()


def pictures_of(**narrowed: object) -> list[PictureUse]:
    """Return where pictures went, as far as the conditions keep it."""
    found = PictureUse.objects.filter(**narrowed)
    return list(found.select_related("allowed", "noted_by"))


def _sitter(sitter_id: int) -> Sitter:
    return get_object_or_404(Sitter.objects.select_related("client"), pk=sitter_id)
