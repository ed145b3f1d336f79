"""What releases show on the client's page and on Today."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from jobs.clients.models import Client
from jobs.releases.models import PictureUse
from jobs.releases.queries import sitter_rows
from studio.http import StaffRequest
from studio.panels import TodayItem, on_today, show_on
from studio.people.models import Person
from studio.profile.models import StudioProfile


@show_on("client.main", action="release.see", order=20)
def sitters_panel(request: StaffRequest, client: Client) -> SafeString | str:
    """Show who of a client's is photographed, and what they allow."""
    on = timezone.now().astimezone(StudioProfile.load().zone).date()
    context = {
        "client": client,
        "rows": sitter_rows(client, on=on),
        "may_edit": request.user.may("release.edit"),
    }
    return render_to_string("jobs/releases/_sitters.html", context, request)


@on_today(action="release.edit")
def pictures_to_take_down(person: Person, at: datetime) -> list[TodayItem]:
    """Give the pictures that are still out though their use was taken back."""
    out = PictureUse.objects.filter(
        removed_at__isnull=True, allowed__withdrawn_at__isnull=False
    ).select_related("allowed__release__sitter")
    return [
        TodayItem(
            group="today",
            title=f"Take pictures of {one.allowed.release.sitter} down",
            reason=f"The use was taken back, and they are here: {one.where[:120]}",
            url=reverse("jobs:sitter", args=[one.allowed.release.sitter_id]),
            verb="Open",
            icon="cross",
        )
        for one in out.order_by("allowed__withdrawn_at", "pk")[:20]
    ]
