"""On the page of a closed period: who has its pack, and handing it out."""

from __future__ import annotations

from typing import Any

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from invoicing.sharing.models import PackShare
from invoicing.sharing.queries import shares_of
from studio.http import StaffRequest
from studio.links.operations import token_of
from studio.panels import show_on


@show_on("period", action="books.close")
def shares_of_period(request: StaffRequest, closed: Any) -> SafeString:
    """Show who has the pack, until when, and how often it was fetched."""
    at = timezone.now()
    rows = [(share, _address(request, share, at)) for share in shares_of(closed)]
    context = {"closed": closed, "rows": rows}
    return render_to_string("invoicing/sharing/_panel.html", context, request)


def _address(request: StaffRequest, share: PackShare, at: Any) -> str:
    link = share.link
    if link is None or link.revoked_at or link.expires_at <= at:
        return ""
    path = reverse("invoicing:pack_page", args=[token_of(link)])
    return request.build_absolute_uri(path)
