"""Pages of a person's own calendar, the feed behind its link, and invitations."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.bookings.models import Booking
from jobs.calendars.busy import drop_calendar, follow_address, read_again, take_file
from jobs.calendars.feeds import (
    close_feed,
    feed_file,
    live_link,
    open_feed,
    renew_feed,
)
from jobs.calendars.forms import BusyForm, FeedForm, InviteForm
from jobs.calendars.invitations import guest_rows, send_round
from jobs.calendars.models import BusyCalendar, CalendarFeed
from jobs.calendars.queries import followed_calendars
from jobs.calendars.telling import may_invite, told_to_guest
from studio.errors import DomainError
from studio.http import staff
from studio.links.models import LinkPurpose
from studio.links.operations import LinkGoneError, find_link, note_use
from studio.mail.letters import link_address
from studio.people.access import may, open_to_all
from studio.profile.models import StudioProfile


@open_to_all
@require_safe
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """Give a person's sessions to the calendar program that holds the address."""
    at = timezone.now()
    try:
        link = find_link(token=token, purpose=LinkPurpose.CALENDAR, at=at)
    except LinkGoneError as gone:
        raise Http404 from gone
    feeds = CalendarFeed.objects.select_related("person")
    feed = feeds.filter(pk=link.object_id, person__is_active=True).first()
    if feed is None:
        raise Http404
    if request.method == "GET":
        note_use(link, at=at)
    name = f"{StudioProfile.load()}, {feed.person}"
    answer = HttpResponse(
        feed_file(feed, name=name), content_type="text/calendar; charset=utf-8"
    )
    answer["Content-Disposition"] = 'inline; filename="sessions.ics"'
    return answer


@may("calendar.own")
@require_http_methods(["GET", "HEAD", "POST"])
def calendar(request: HttpRequest) -> HttpResponse:
    """Show a person's feed and what they follow; open the feed or change it."""
    person, at = staff(request).user, timezone.now()
    feed = CalendarFeed.objects.filter(person=person).first()
    initial = {}
    if feed:
        alarm = "" if feed.alarm_minutes is None else str(feed.alarm_minutes)
        initial = {"detail": feed.detail, "alarm": alarm}
    data = request.POST if request.method == "POST" else None
    form = FeedForm(data, initial=initial)
    if form.is_valid():
        detail, alarm_minutes = form.cleaned_data["detail"], form.alarm_minutes()
        open_feed(person=person, detail=detail, alarm_minutes=alarm_minutes, at=at)
        messages.success(request, "Your sessions’ calendar is kept.")
        return redirect("jobs:calendar")
    link = live_link(feed, at=at) if feed else None
    home = StudioProfile.load().public_address or request.build_absolute_uri("/")
    context = {
        "form": form,
        "link": link,
        "address": link_address(link, home) if link else "",
        "calendars": followed_calendars(person, at=at),
    }
    return render(request, "jobs/calendars/calendar.html", context)


@may("calendar.own")
@require_POST
def calendar_renew(request: HttpRequest) -> HttpResponse:
    """Give the feed a new address."""
    person, at = staff(request).user, timezone.now()
    if CalendarFeed.objects.filter(person=person).exists():
        renew_feed(person=person, at=at)
        messages.success(
            request, "There is a new address. The old one opens nothing any more."
        )
    return redirect("jobs:calendar")


@may("calendar.own")
@require_POST
def calendar_close(request: HttpRequest) -> HttpResponse:
    """Take the feed's address back."""
    person, at = staff(request).user, timezone.now()
    if CalendarFeed.objects.filter(person=person).exists():
        close_feed(person=person, at=at)
        messages.success(request, "The address opens nothing any more.")
    return redirect("jobs:calendar")


@may("calendar.own")
@require_http_methods(["GET", "HEAD", "POST"])
def busy_new(request: HttpRequest) -> HttpResponse:
    """Take a calendar whose busy times count."""
    posted = request.method == "POST"
    form = BusyForm(request.POST, request.FILES) if posted else BusyForm()
    if form.is_valid():
        try:
            made = _read(request, form)
        except DomainError as refusal:
            name = "file" if form.cleaned_data["file"] else "address"
            form.add_error(name, str(refusal))
        else:
            messages.success(
                request, f"“{made}” is read: {made.times.count()} busy times ahead."
            )
            return redirect("jobs:calendar")
    return render(request, "jobs/calendars/busy.html", {"form": form})


@may("calendar.own")
@require_POST
def busy_read(request: HttpRequest, calendar_id: int) -> HttpResponse:
    """Read a followed calendar again, at once."""
    followed = staff(request).user.busy_calendars.exclude(address="")
    found = get_object_or_404(followed, pk=calendar_id)
    found = read_again(calendar_id=found.pk, at=timezone.now())
    if found.fault:
        messages.error(request, f"“{found}” was not read. {found.fault}")
    else:
        messages.success(request, f"“{found}” is read again.")
    return redirect("jobs:calendar")


@may("calendar.own")
@require_POST
def busy_drop(request: HttpRequest, calendar_id: int) -> HttpResponse:
    """Forget a calendar."""
    person = staff(request).user
    found = get_object_or_404(BusyCalendar, pk=calendar_id, person=person)
    drop_calendar(calendar_id=found.pk, person=person, at=timezone.now())
    messages.success(request, f"“{found}” is forgotten, and its busy times with it.")
    return redirect("jobs:calendar")


@may("booking.invite")
@require_http_methods(["GET", "HEAD", "POST"])
def invite(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Send a session to calendars by mail, or take it back."""
    found = Booking.objects.select_related("job__client", "place")
    booking = get_object_or_404(found, pk=booking_id)
    rows = guest_rows(booking)
    data = request.POST if request.method == "POST" else None
    form = InviteForm(data, rows=rows, may_invite=may_invite(booking))
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        try:
            wrote = send_round(booking_id=booking.pk, sent=form.round(), by=by, at=at)
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            count = len(wrote)
            letters = "letter goes" if count == 1 else "letters go"
            messages.success(request, f"{count} {letters} out with the session.")
            return redirect(booking.job)
    context = {
        "form": form,
        "booking": booking,
        "rows": rows,
        "told": told_to_guest(booking, StudioProfile.load()),
        "may_invite": may_invite(booking),
    }
    return render(request, "jobs/calendars/invite.html", context)


def _read(request: HttpRequest, form: BusyForm) -> BusyCalendar:
    data, person, at = form.cleaned_data, staff(request).user, timezone.now()
    if data["file"]:
        content = data["file"].read()
        return take_file(person=person, name=data["name"], content=content, at=at)
    return follow_address(
        person=person, name=data["name"], address=data["address"], at=at
    )
