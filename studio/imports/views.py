"""Bringing a list in: the file, its columns with a trial, and the run."""

from __future__ import annotations

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

from studio.errors import DomainError
from studio.http import sheet_download, staff
from studio.imports.forms import ListForm, MatchingForm
from studio.imports.kinds import Kind, kind_of, kinds
from studio.imports.models import SentList
from studio.imports.operations import (
    Outcome,
    bring_in,
    keep_list,
    leave_list,
    try_out,
)
from studio.imports.rows import Matching, guess_matching, lacking_of, read_list
from studio.people.access import may

SHOWN: Final = 50


@may("list.bring_in")
@require_safe
def lists(request: HttpRequest) -> HttpResponse:
    """Show what lists can be brought in."""
    return render(request, "studio/imports/lists.html", {"kinds": kinds()})


@may("list.bring_in")
@require_http_methods(["GET", "POST"])
def list_new(request: HttpRequest, slug: str) -> HttpResponse:
    """Take a list in; nothing is kept of it in the book yet."""
    kind = _kind(slug)
    form = ListForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        file = form.cleaned_data["file"]
        try:
            sent = keep_list(
                kind=kind,
                name=file.name,
                content=file.read(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error("file", str(refusal))
        else:
            return redirect("studio:list_match", slug, sent.pk)
    status = 422 if form.is_bound else 200
    context = {"kind": kind, "form": form}
    return render(request, "studio/imports/new.html", context, status=status)


@may("list.bring_in")
@require_safe
def list_example(request: HttpRequest, slug: str) -> HttpResponse:
    """Give a table with this kind's columns and one row, to be filled in."""
    kind = _kind(slug)
    head = [column.label for column in kind.columns]
    rows = [[column.example for column in kind.columns]]
    name = f"{kind.slug}-example"
    return sheet_download(name=name, kind="csv", head=head, rows=rows)


@may("list.bring_in")
@require_http_methods(["GET", "POST"])
def list_match(request: HttpRequest, slug: str, list_id: int) -> HttpResponse:
    """Show what the columns seem to mean, and what the list would come to."""
    kind = _kind(slug)
    sent = SentList.objects.filter(pk=list_id, kind=slug).first()
    if sent is None:
        messages.info(request, "This list was brought in already, or left.")
        return redirect("studio:list_new", slug)
    table = read_list(bytes(sent.content))
    guess = guess_matching(kind, table)
    form = MatchingForm(
        request.POST if request.method == "POST" else None,
        kind=kind,
        table=table,
        guess=guess,
    )
    matching = form.matching() if form.is_valid() else guess
    if form.is_valid() and "bring" in request.POST:
        return _brought(request, kind, sent, matching)
    lacking = lacking_of(kind, matching)
    outcome = Outcome() if lacking else _tried(request, kind, sent, matching)
    if form.is_valid() and "bad" in request.POST:
        return _to_mend(kind, table.head, outcome)
    context = {
        "kind": kind,
        "sent": sent,
        "form": form,
        "lacking": lacking,
        "outcome": outcome,
        "bad": outcome.bad[:SHOWN],
        "known": outcome.known[:SHOWN],
        "more_bad": len(outcome.bad) - SHOWN,
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, "studio/imports/match.html", context, status=status)


@may("list.bring_in")
@require_POST
def list_leave(request: HttpRequest, slug: str, list_id: int) -> HttpResponse:
    """Forget a list that was sent."""
    kind = _kind(slug)
    sent = get_object_or_404(SentList, pk=list_id, kind=slug)
    leave_list(list_id=sent.pk)
    return redirect(kind.page)


def _kind(slug: str) -> Kind:
    try:
        return kind_of(slug)
    except KeyError as fault:
        raise Http404 from fault


def _tried(
    request: HttpRequest, kind: Kind, sent: SentList, matching: Matching
) -> Outcome:
    by, at = staff(request).user, timezone.now()
    return try_out(sent=sent, kind=kind, matching=matching, by=by, at=at)


def _brought(
    request: HttpRequest, kind: Kind, sent: SentList, matching: Matching
) -> HttpResponse:
    try:
        outcome = bring_in(
            list_id=sent.pk,
            kind=kind,
            matching=matching,
            by=staff(request).user,
            at=timezone.now(),
            without_bad="without_bad" in request.POST,
        )
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return redirect("studio:list_match", kind.slug, sent.pk)
    messages.success(request, _told(kind, outcome))
    return redirect(kind.page)


def _told(kind: Kind, outcome: Outcome) -> str:
    said = f"{len(outcome.added)} of {kind.name.lower()} brought in."
    if outcome.known:
        said += f" {len(outcome.known)} were there already."
    if outcome.bad:
        said += f" {len(outcome.bad)} were left out."
    return said


def _to_mend(kind: Kind, head: tuple[str, ...], outcome: Outcome) -> HttpResponse:
    rows = [
        [*row.cells, "; ".join(": ".join(filter(None, one)) for one in row.faults)]
        for row in outcome.bad
    ]
    return sheet_download(
        name=f"{kind.slug}-to-mend",
        kind="csv",
        head=[*head, "What is wrong"],
        rows=rows,
    )
