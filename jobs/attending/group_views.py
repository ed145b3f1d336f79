"""Pages of the list of groups to photograph."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.attending.forms import GroupForm
from jobs.attending.group_operations import (
    add_suggested,
    keep_group,
    move_group,
    remove_group,
)
from jobs.attending.models import GroupShot
from jobs.attending.queries import company_of, groups_of
from jobs.attending.views import PAGES, booking_of
from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def groups(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Show the groups to photograph, and add one."""
    booking = booking_of(booking_id)
    company = company_of(booking)
    posted = request.POST if request.method == "POST" else None
    form = GroupForm(posted, people=company.people)
    if form.is_valid():
        try:
            keep_group(
                booking=booking,
                group=None,
                name=form.cleaned_data["name"],
                member_ids=form.member_ids(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("jobs:groups", booking.pk)
    context = {"booking": booking, "groups": groups_of(booking, company), "form": form}
    return render(request, f"{PAGES}groups.html", context)


@may("booking.edit")
@require_POST
def groups_suggest(request: HttpRequest, booking_id: int) -> HttpResponse:
    """Add the groups that who is coming suggests."""
    booking = booking_of(booking_id)
    try:
        new = add_suggested(booking=booking, by=staff(request).user, at=timezone.now())
    except DomainError as refusal:
        messages.error(request, str(refusal))
    else:
        counted = "one group is" if new == 1 else f"{new} groups are"
        none = "Nothing new to suggest. Tell who is coming, their families and ages."
        messages.info(request, f"{counted.capitalize()} added." if new else none)
    return redirect("jobs:groups", booking.pk)


@may("booking.edit")
@require_http_methods(["GET", "POST"])
def group(request: HttpRequest, group_id: int) -> HttpResponse:
    """Change a group's name, and who is in it."""
    row = _group(group_id)
    people = company_of(row.booking).people
    initial = {"name": row.name, "members": [one.pk for one in row.members.all()]}
    posted = request.POST if request.method == "POST" else None
    form = GroupForm(posted, people=people, initial=initial)
    if form.is_valid():
        keep_group(
            booking=row.booking,
            group=row,
            name=form.cleaned_data["name"],
            member_ids=form.member_ids(),
            by=staff(request).user,
            at=timezone.now(),
        )
        return redirect("jobs:groups", row.booking_id)
    context = {"booking": row.booking, "group": row, "form": form}
    return render(request, f"{PAGES}group.html", context)


@may("booking.edit")
@require_POST
def group_move(request: HttpRequest, group_id: int) -> HttpResponse:
    """Move a group one place up or down."""
    row = _group(group_id)
    by_one = -1 if "up" in request.POST else 1
    move_group(group=row, by_one=by_one, by=staff(request).user, at=timezone.now())
    return redirect("jobs:groups", row.booking_id)


@may("booking.edit")
@require_POST
def group_remove(request: HttpRequest, group_id: int) -> HttpResponse:
    """Take a group off the list."""
    row = _group(group_id)
    remove_group(group=row, by=staff(request).user, at=timezone.now())
    return redirect("jobs:groups", row.booking_id)


def _group(group_id: int) -> GroupShot:
    rows = GroupShot.objects.select_related("booking__job__client", "booking__place")
    return get_object_or_404(rows, pk=group_id)
