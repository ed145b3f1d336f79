"""Pages on the people who sign in."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from studio.errors import DomainError
from studio.http import staff
from studio.people.access import may
from studio.people.forms import PersonForm, initial_of
from studio.people.models import Person
from studio.people.operations import (
    Admitted,
    OwnPasswordError,
    TakenNameError,
    add_person,
    change_person,
    close_person,
    give_password,
    reopen_person,
)


@may("people.manage")
@require_safe
def people(request: HttpRequest) -> HttpResponse:
    """List everybody, those who may sign in first."""
    rows = Person.objects.order_by("-is_active", "name", "pk")
    return render(request, "studio/people/people.html", {"people": rows})


@may("people.manage")
@require_http_methods(["GET", "POST"])
def person_new(request: HttpRequest) -> HttpResponse:
    """Let somebody in; their password is shown once."""
    form = PersonForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            admitted = add_person(
                details=form.details(), by=staff(request).user, at=timezone.now()
            )
        except TakenNameError as refusal:
            form.add_error("username", str(refusal))
        else:
            return _password_once(request, admitted)
    return _page(request, form, None)


@may("people.manage")
@require_http_methods(["GET", "POST"])
def person(request: HttpRequest, person_id: int) -> HttpResponse:
    """Show somebody, and change who they are and which hats they wear."""
    found = get_object_or_404(Person, pk=person_id)
    data = request.POST if request.method == "POST" else None
    form = PersonForm(data, initial=initial_of(found))
    if form.is_valid():
        try:
            changed = change_person(
                person_id=found.pk,
                details=form.details(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except TakenNameError as refusal:
            form.add_error("username", str(refusal))
        except DomainError as refusal:
            form.add_error("is_owner", str(refusal))
        else:
            messages.success(request, f"{changed} is saved.")
            return redirect("studio:people")
    return _page(request, form, found)


@may("people.manage")
@require_POST
def person_close(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody in no more."""
    found = get_object_or_404(Person, pk=person_id)
    try:
        close_person(person_id=found.pk, by=staff(request).user, at=timezone.now())
        messages.success(request, f"{found} is signed out and can sign in no more.")
    except DomainError as refusal:
        messages.error(request, str(refusal))
    return redirect("studio:people")


@may("people.manage")
@require_POST
def person_reopen(request: HttpRequest, person_id: int) -> HttpResponse:
    """Let somebody in again."""
    found = get_object_or_404(Person, pk=person_id)
    reopen_person(person_id=found.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, f"{found} can sign in again.")
    return redirect("studio:people")


@may("people.manage")
@require_POST
def person_password(request: HttpRequest, person_id: int) -> HttpResponse:
    """Give somebody a new password; it is shown once."""
    found = get_object_or_404(Person, pk=person_id)
    try:
        admitted = give_password(
            person_id=found.pk, by=staff(request).user, at=timezone.now()
        )
    except OwnPasswordError as refusal:
        messages.error(request, str(refusal))
        return redirect("studio:person", found.pk)
    return _password_once(request, admitted)


def _password_once(request: HttpRequest, admitted: Admitted) -> HttpResponse:
    return render(request, "studio/people/password.html", {"admitted": admitted})


def _page(request: HttpRequest, form: PersonForm, found: Person | None) -> HttpResponse:
    context = {"form": form, "person": found}
    status = 422 if form.is_bound else 200
    return render(request, "studio/people/person.html", context, status=status)
