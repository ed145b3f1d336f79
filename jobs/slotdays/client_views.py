"""What whoever has a link sees: the free times of a day, and their own."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs.slotdays.forms import ChoiceOfTimeForm, SitterForm
from jobs.slotdays.letters import moment_words, when_words
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.queries import clocks_of, free_times
from jobs.slotdays.rows import page_of
from jobs.slotdays.taking import change_sitting, give_back, take_sitting
from studio.errors import DomainError
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import LinkGoneError, find_link, note_use, token_of
from studio.people.access import open_to_all
from studio.visitors import posts_too_often
from studio.wording import long_date

PAGES: Final = "jobs/slotdays/"
GIVEN_BACK: Final = "Given back on its private page"
OPEN: Final = {"PROPOSED", "PENCILLED", "CONFIRMED"}


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def times(request: HttpRequest, token: str) -> HttpResponse:
    """Show a day's free times, and let one be taken."""
    is_post = request.method == "POST"
    if is_post and posts_too_often(request):
        return render(request, "jobs/enquiries/busy.html", status=429)
    at = timezone.now()
    link = _link(request, token, LinkPurpose.SLOT_DAY, at)
    days = SlotDay.objects.select_related("booking__place", "booking__job__owner")
    day = get_object_or_404(days, pk=link.object_id)
    free = free_times(day)
    data = request.POST if is_post else None
    choice = ChoiceOfTimeForm(data, times=free)
    sitter = SitterForm(data, is_visitor=True)
    is_open = day.takes_people and _is_open(day, at)
    if is_post and is_open and choice.is_valid() and sitter.is_valid():
        try:
            taken = take_sitting(
                sitting_id=choice.cleaned_data["sitting"],
                visitor=sitter.visitor(),
                by=None,
                at=at,
            )
        except DomainError as refusal:
            choice.add_error("sitting", str(refusal))
        else:
            messages.success(request, "This time is yours.")
            return redirect("jobs:your_sitting", token_of(page_of(taken, at=at)))
    left = free_times(day) if is_post else free
    start = day.booking.local_start
    context = {
        "day": day,
        "booking": day.booking,
        "is_open": is_open,
        "on": long_date(start),
        "until": moment_words(day.local_close),
        "times": [(one.pk, clocks_of(one)) for one in left],
        "chosen": request.POST.get("sitting", ""),
        "choice": choice,
        "form": sitter,
    }
    status = 422 if is_post else 200
    return render(request, f"{PAGES}times.html", context, status=status)


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def your_sitting(request: HttpRequest, token: str) -> HttpResponse:
    """Show somebody their own time; they may choose another or give it back."""
    is_post = request.method == "POST"
    if is_post and posts_too_often(request):
        return render(request, "jobs/enquiries/busy.html", status=429)
    at = timezone.now()
    link = _link(request, token, LinkPurpose.SITTING, at)
    found = Sitting.objects.select_related(
        "slot_day__booking__place", "slot_day__booking__job__owner", "job__client"
    )
    one = get_object_or_404(found, job_id=link.object_id)
    day = one.slot_day
    free = free_times(day)
    form = ChoiceOfTimeForm(
        request.POST if is_post and "change" in request.POST else None, times=free
    )
    if is_post and "back" in request.POST:
        return _given_back(request, one, token, at)
    if form.is_valid():
        try:
            to_id = form.cleaned_data["sitting"]
            change_sitting(sitting_id=one.pk, to_id=to_id, by=None, at=at)
        except DomainError as refusal:
            form.add_error("sitting", str(refusal))
        else:
            messages.success(request, "Your time is changed.")
            return redirect("jobs:your_sitting", token)
    context = {
        "sitting": one,
        "day": day,
        "booking": day.booking,
        "when": when_words(one),
        "clocks": clocks_of(one),
        "form": form,
        "others": free,
        "is_off": day.booking.status == "CANCELLED",
        "may_change": _is_open(day, at),
    }
    status = 422 if form.is_bound else 200
    return render(request, f"{PAGES}your_sitting.html", context, status=status)


def _given_back(
    request: HttpRequest, one: Sitting, token: str, at: datetime
) -> HttpResponse:
    try:
        give_back(sitting_id=one.pk, because=GIVEN_BACK, by=None, at=at)
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect("jobs:your_sitting", token)
    return render(request, f"{PAGES}given_back.html", {"day": one.slot_day})


def _is_open(day: SlotDay, at: datetime) -> bool:
    return day.booking.status in OPEN and at < day.closes_at


def _link(
    request: HttpRequest, token: str, purpose: LinkPurpose, at: datetime
) -> PrivateLink:
    try:
        link = find_link(token=token, purpose=purpose, at=at)
    except LinkGoneError as gone:
        raise Http404 from gone
    if request.method == "GET" and not request.user.is_authenticated:
        note_use(link, at=at)
    return link
