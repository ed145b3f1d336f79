"""The studio's pages of one release: its paper, its signature, and its uses."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time
from typing import Final

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.releases.documents import print_release
from jobs.releases.forms import PaperForm, PictureUseForm, WithdrawForm
from jobs.releases.models import AllowedUse, How, PictureUse, Release
from jobs.releases.operations import (
    Signature,
    note_picture_use,
    note_removal,
    send_release,
    sign_release,
    withdraw_use,
)
from jobs.releases.queries import printed_release, use_row
from jobs.releases.views import PAGES, crumbs_of, form_page, pictures_of, studio_today
from jobs.releases.words import CAUTION
from studio.errors import DomainError
from studio.files.operations import take_scan
from studio.http import staff
from studio.people.access import may
from studio.profile.models import StudioProfile

ENDINGS: Final = {"application/pdf": "pdf", "image/jpeg": "jpg"}


@may("release.see")
@require_safe
def release(request: HttpRequest, release_id: int) -> HttpResponse:
    """Show a release, its signature and its uses."""
    return _release_page(request, _release(release_id))


@may("release.see")
@require_safe
def release_pdf(request: HttpRequest, release_id: int) -> HttpResponse:
    """Give the printed release."""
    found = _release(release_id)
    content = print_release(printed_release(found))
    return _download(content, "application/pdf", f"release-{found.pk}.pdf")


@may("release.see")
@require_safe
def release_scan(request: HttpRequest, release_id: int) -> HttpResponse:
    """Give the scan of a signed release."""
    found = _release(release_id)
    if found.scan is None:
        raise Http404
    kind = found.scan.content_type
    name = f"release-{found.pk}-signed.{ENDINGS.get(kind, 'bin')}"
    return _download(bytes(found.scan.content), kind, name)


@may("release.edit")
@require_POST
def release_send(request: HttpRequest, release_id: int) -> HttpResponse:
    """Send the private page of a release to whoever signs it."""
    found = _release(release_id)
    by, at = staff(request).user, timezone.now()
    _try(
        request,
        lambda: send_release(release_id=found.pk, by=by, at=at),
        f"The page goes to {found.sitter.email}.",
    )
    return redirect(found)


@may("release.edit")
@require_POST
def release_paper(request: HttpRequest, release_id: int) -> HttpResponse:
    """Take the scan of a release that was signed on paper."""
    found = _release(release_id)
    form = PaperForm(request.POST, request.FILES, today=studio_today())
    if form.is_valid():
        try:
            _sign_on_paper(request, found, form)
        except DomainError as refusal:
            form.add_error("scan", str(refusal))
        else:
            messages.success(request, "The signature is kept.")
            return redirect(found)
    return _release_page(request, found, paper=form)


@may("release.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def use_withdraw(request: HttpRequest, use_id: int) -> HttpResponse:
    """Say where the pictures already are, then take a use back."""
    allowed = _use(use_id)
    form = WithdrawForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        words, at = form.cleaned_data["words"], timezone.now()
        by = staff(request).user
        _try(
            request,
            lambda: withdraw_use(use_id=allowed.pk, words=words, by=by, at=at),
            "Nothing new goes out under it any more.",
        )
        return redirect(allowed.release.sitter)
    context = {
        "form": form,
        "allowed": allowed,
        "pictures": pictures_of(allowed=allowed),
    }
    return render(request, f"{PAGES}withdraw.html", context)


@may("release.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def picture_use(request: HttpRequest, use_id: int) -> HttpResponse:
    """Note where pictures went under a use."""
    allowed = _use(use_id)
    sitter = allowed.release.sitter
    data = request.POST if request.method == "POST" else None
    form = PictureUseForm(data, initial={"used_on": studio_today()})
    if form.is_valid():
        try:
            note_picture_use(
                use_id=allowed.pk,
                **form.cleaned_data,
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "It is noted where the pictures went.")
            return redirect(sitter)
    title = f"Where pictures of {sitter.name} went"
    return form_page(request, form, title, crumbs_of(sitter))


@may("release.edit")
@require_POST
def picture_removed(request: HttpRequest, picture_use_id: int) -> HttpResponse:
    """Note that pictures were taken down."""
    found = get_object_or_404(
        PictureUse.objects.select_related("allowed__release__sitter"),
        pk=picture_use_id,
    )
    by, at = staff(request).user, timezone.now()
    note_removal(picture_use_id=found.pk, by=by, at=at)
    messages.success(request, "It is noted that they were taken down.")
    return redirect(found.allowed.release.sitter)


def _release_page(
    request: HttpRequest, found: Release, paper: PaperForm | None = None
) -> HttpResponse:
    on = studio_today()
    context = {
        "release": found,
        "caution": CAUTION,
        "uses": [use_row(one, on=on) for one in found.uses.select_related("release")],
        "paper": paper
        or PaperForm(today=on, initial={"name": found.sitter.signer, "signed_on": on}),
    }
    return render(request, f"{PAGES}release.html", context)


def _sign_on_paper(request: HttpRequest, found: Release, form: PaperForm) -> None:
    data, at = form.cleaned_data, timezone.now()
    scan = take_scan(name=f"release-{found.pk}", content=data["scan"].read(), at=at)
    zone = StudioProfile.load().zone
    noon = datetime.combine(data["signed_on"], time(12), tzinfo=zone)
    signature = Signature(
        name=data["name"], how=How.PAPER, signed_at=min(noon, at), scan=scan
    )
    by = staff(request).user
    sign_release(release_id=found.pk, signature=signature, by=by, at=at)


def _try(request: HttpRequest, act: Callable[[], object], done: str) -> None:
    try:
        act()
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, done)


def _download(content: bytes, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def _release(release_id: int) -> Release:
    found = Release.objects.select_related("sitter__client", "scan", "made_by")
    return get_object_or_404(found, pk=release_id)


def _use(use_id: int) -> AllowedUse:
    found = AllowedUse.objects.select_related("release__sitter__client")
    return get_object_or_404(found, pk=use_id)
