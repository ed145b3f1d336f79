"""What a reader opens by their private link: what the pack holds, and the pack."""

from __future__ import annotations

from datetime import datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from invoicing.sharing.models import PackShare
from invoicing.sharing.operations import note_fetch
from invoicing.sharing.queries import pack_bytes, parts_of, span_of
from studio.http import download
from studio.links.models import LinkPurpose
from studio.links.operations import LinkGoneError, find_link, note_use
from studio.people.access import open_to_all
from studio.visitors import posts_too_often


@open_to_all
@require_safe
def pack_page(request: HttpRequest, token: str) -> HttpResponse:
    """Say what the pack holds, and until when it can be had."""
    share = _opened(request, token, timezone.now())
    context = {
        "share": share,
        "span": span_of(share.period),
        "parts": parts_of(share.period),
        "token": token,
    }
    return render(request, "invoicing/sharing/pack.html", context)


@open_to_all
@require_POST
def pack_fetch(request: HttpRequest, token: str) -> HttpResponse:
    """Give the pack, and journal that; programs that only look ahead do not post."""
    if posts_too_often(request):
        return render(request, "jobs/enquiries/busy.html", status=429)
    at = timezone.now()
    share = _opened(request, token, at)
    content = pack_bytes(share.period, at=at)
    note_fetch(share_id=share.pk, at=at)
    name = f"{share.period.starts_on.isoformat()}-pack.zip"
    return download(name=name, content_type="application/zip", content=content)


def _opened(request: HttpRequest, token: str, at: datetime) -> PackShare:
    try:
        link = find_link(token=token, purpose=LinkPurpose.BOOKS, at=at)
    except LinkGoneError as gone:
        raise Http404 from gone
    if request.method == "GET" and not request.user.is_authenticated:
        note_use(link, at=at)
    shares = PackShare.objects.select_related("period", "link")
    return get_object_or_404(shares, pk=link.object_id)
