"""Pages of a site: its skyline."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST

from jobs.places.models import Place
from planning.days.queries import shown_day, spot_of
from planning.shoots.charts.horizon_chart import horizon_chart
from planning.shoots.queries import where_of
from planning.sites.forms import SkylineForm, initial_of
from planning.sites.models import Site, SunMark
from planning.sites.operations import drop_sun_mark, keep_site, mark_sun_gone
from planning.sites.point_forms import (
    MOST_POINTS,
    POINTS,
    PointLines,
    initial_points,
    points_of,
)
from planning.sites.points import read_profile
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import sent_by_script, short_answer, staff
from studio.kept import made_at
from studio.people.access import may


@may("place.edit")
@require_http_methods(["GET", "POST"])
def skyline(request: HttpRequest, place_id: int) -> HttpResponse:
    """Type what hides the sun at a place."""
    place = get_object_or_404(Place, pk=place_id)
    site = Site.objects.filter(place=place).first() or Site(place=place)
    posted = request.POST if request.method == "POST" else None
    adding = posted is not None and "add_line" in posted
    data = more_lines(posted, prefix=POINTS) if posted and adding else posted
    form = SkylineForm(data, initial=initial_of(site))
    lines = PointLines(
        data, prefix=POINTS, initial=initial_points(read_profile(site.profile))
    )
    at = timezone.now()
    if not adding and all([form.is_valid(), lines.is_valid()]):
        details = form.details(points_of(lines))
        keep_site(place=place, details=details, by=staff(request).user, at=at)
        messages.success(request, "The skyline is kept.")
        return redirect(place)
    context = {
        "place": place,
        "form": form,
        "lines": lines,
        "most": MOST_POINTS,
        "all_round": horizon_chart(where_of(place), at.astimezone(place.zone).date()),
        "marks": place.sun_marks.select_related("seen_by"),
        "day": shown_day(spot_of(place), at.astimezone(place.zone).date(), at),
        "site": site,
    }
    return render(request, "planning/sites/skyline.html", context)


@may("place.edit")
@require_POST
def sun_gone(request: HttpRequest, place_id: int) -> HttpResponse:
    """Keep that the sun goes behind the skyline, now or when the phone kept it.

    `next` says where to return; a script gets 200, or 409 with a reason.
    """
    place = get_object_or_404(Place, pk=place_id)
    by, sent, refused = staff(request).user, request.POST, ""
    try:
        at = made_at(sent.get("made_at", "")[:40], timezone.now())
        key = sent.get("client_key", "")[:40]
        mark = mark_sun_gone(place=place, at=at, by=by, client_key=key)
        words = (
            f"Kept: the skyline stands {mark.altitude_deg:.1f}° high at "
            f"{mark.azimuth_deg:.0f}°."
        )
    except DomainError as refusal:
        refused = words = str(refusal)
    if sent_by_script(request):
        return short_answer(words, status=409 if refused else 200)
    level = messages.ERROR if refused else messages.SUCCESS
    messages.add_message(request, level, words)
    return redirect(_next(request) or place.get_absolute_url())


@may("place.edit")
@require_POST
def sun_mark_drop(request: HttpRequest, mark_id: int) -> HttpResponse:
    """Take back a mark that was made by mistake."""
    mark = get_object_or_404(SunMark, pk=mark_id)
    place = drop_sun_mark(mark_id=mark.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, "The point is taken out of the skyline.")
    return redirect("planning:skyline", place.pk)


def _next(request: HttpRequest) -> str:
    """Return the page of ours that the request wants to go back to, if any."""
    wanted = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(
        wanted, {request.get_host()}, require_https=request.is_secure()
    )
    return wanted if wanted and ours else ""
