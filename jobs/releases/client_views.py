"""What whoever signs a release sees behind its private link."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Final

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.releases.forms import SignForm
from jobs.releases.models import AllowedUse, How, Release
from jobs.releases.operations import Signature, sign_release, withdraw_use
from jobs.releases.queries import use_row
from studio.errors import DomainError
from studio.links.models import LinkPurpose
from studio.links.operations import LinkGoneError, find_link, note_use
from studio.people.access import open_to_all
from studio.profile.models import StudioProfile
from studio.visitors import address_of, posts_too_often

PAGES: Final = "jobs/releases/"
SignerView = Callable[[HttpRequest, Release, str], HttpResponse]


def behind_link(view: SignerView) -> Callable[[HttpRequest, str], HttpResponse]:
    """Let a view answer whoever has a release's link."""

    @wraps(view)
    def opened(request: HttpRequest, token: str) -> HttpResponse:
        if request.method == "POST" and posts_too_often(request):
            return render(request, "jobs/enquiries/busy.html", status=429)
        at = timezone.now()
        try:
            link = find_link(token=token, purpose=LinkPurpose.RELEASE, at=at)
        except LinkGoneError as gone:
            raise Http404 from gone
        if request.method == "GET" and not request.user.is_authenticated:
            note_use(link, at=at)
        found = Release.objects.select_related("sitter").get(pk=link.object_id)
        return view(request, found, token)

    return opened


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
@behind_link
def sign(request: HttpRequest, found: Release, token: str) -> HttpResponse:
    """Show a release, and take a name under it."""
    posted = request.method == "POST"
    for_child = found.sitter.is_child
    form = SignForm(request.POST if posted else None, for_child=for_child)
    if form.is_valid():
        at = timezone.now()
        signature = Signature(
            name=form.cleaned_data["name"],
            how=How.PAGE,
            signed_at=at,
            network_address=address_of(request),
            browser=request.headers.get("User-Agent", "")[:200],
        )
        try:
            sign_release(release_id=found.pk, signature=signature, by=None, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("jobs:release_sign", token)
    on = timezone.now().astimezone(StudioProfile.load().zone).date()
    context = {
        "release": found,
        "form": form,
        "token": token,
        "uses": [use_row(one, on=on) for one in found.uses.select_related("release")],
    }
    status = 422 if posted else 200
    return render(request, f"{PAGES}sign.html", context, status=status)


@open_to_all
@require_POST
@behind_link
def take_back(request: HttpRequest, found: Release, token: str) -> HttpResponse:
    """Let whoever signed take a use back."""
    wanted = request.POST.get("use", "")
    if wanted.isascii() and wanted.isdigit() and len(wanted) < 18:
        allowed = AllowedUse.objects.filter(
            release=found, pk=wanted, withdrawn_at__isnull=True
        ).first()
        if allowed and found.signed_at:
            withdraw_use(
                use_id=allowed.pk,
                words="On the private page",
                by=None,
                at=timezone.now(),
            )
    return redirect("jobs:release_sign", token)
