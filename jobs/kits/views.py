"""Pages of kit, with the places beside it."""

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

from jobs.kits.calibrating import guide_words, loss_words
from jobs.kits.forms import (
    ONE_OF,
    KitForm,
    KitItemForm,
    one_of_lines,
    positions_in,
)
from jobs.kits.models import Kit, KitCategory, KitItem
from jobs.kits.operations import (
    KitContent,
    add_item,
    break_kit_up,
    change_item,
    change_kit,
    end_trouble,
    keep_kit,
    retire_item,
    take_item_back,
)
from jobs.kits.queries import kit_shelf, sessions_with
from jobs.places.models import Place
from studio.errors import DomainError
from studio.forms import more_lines
from studio.http import staff
from studio.people.access import may

SHOWN_PLACES = 12


@may("kit.see")
@require_safe
def kit(request: HttpRequest) -> HttpResponse:
    """List what the studio owns, and the places it works at."""
    places = list(Place.objects.order_by("name", "pk")[: SHOWN_PLACES + 1])
    context = {
        "shelf": kit_shelf(),
        "places": places[:SHOWN_PLACES],
        "more_places": len(places) > SHOWN_PLACES,
    }
    return render(request, "jobs/kits/kit.html", context)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_item_new(request: HttpRequest) -> HttpResponse:
    """Take an item into the studio's kit."""
    category = _category(request, KitCategory.CAMERA)
    data = request.POST if request.method == "POST" else None
    form = KitItemForm(data, category=category)
    if form.is_valid():
        by, at = staff(request).user, timezone.now()
        made = add_item(details=form.details(), by=by, at=at)
        messages.success(request, f"{made} is in the kit.")
        return redirect("jobs:kit")
    context = {"form": form, "category": category, "categories": KitCategory.choices}
    return render(request, "jobs/kits/item.html", context)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_item(request: HttpRequest, item_id: int) -> HttpResponse:
    """Change what is known of an item, and show which sessions keep it."""
    found = get_object_or_404(KitItem, pk=item_id)
    category = _category(request, KitCategory(found.category))
    data = request.POST if request.method == "POST" else None
    form = KitItemForm(data, category=category, item=found)
    by, at = staff(request).user, timezone.now()
    if form.is_valid():
        change_item(item_id=found.pk, details=form.details(), by=by, at=at)
        messages.success(request, f"{form.cleaned_data['name']} is changed.")
        return redirect("jobs:kit")
    context = {
        "form": form,
        "item": found,
        "category": category,
        "categories": KitCategory.choices,
        "sessions": sessions_with(found, at=at),
        "measured": guide_words(found) or loss_words(found),
    }
    return render(request, "jobs/kits/item.html", context)


@may("kit.edit")
@require_POST
def kit_item_retire(request: HttpRequest, item_id: int) -> HttpResponse:
    """Retire an item, or take a retired one back into use."""
    found = get_object_or_404(KitItem, pk=item_id)
    by, at = staff(request).user, timezone.now()
    if found.retired:
        take_item_back(item_id=found.pk, by=by, at=at)
        messages.success(request, f"{found} is in use again.")
        return redirect("jobs:kit")
    retire_item(item_id=found.pk, by=by, at=at)
    messages.success(request, f"{found} is retired.")
    if held := sessions_with(found, at=at):
        words = f"{held[0].title} still counts on it: change the session’s kit."
        messages.warning(request, words)
    return redirect("jobs:kit")


@may("kit.edit")
@require_POST
def kit_item_in_order(request: HttpRequest, item_id: int) -> HttpResponse:
    """Say that an item was found or repaired, or write it off."""
    found = get_object_or_404(KitItem, pk=item_id)
    is_lost = request.POST.get("ends") == "written_off"
    by, at = staff(request).user, timezone.now()
    end_trouble(item_id=found.pk, is_lost=is_lost, by=by, at=at)
    words = "is written off and retired." if is_lost else "is back in order."
    messages.success(request, f"{found} {words}")
    return redirect(found)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_set_new(request: HttpRequest) -> HttpResponse:
    """Make a kit of items that go out together."""
    return _kit_page(request, None)


@may("kit.edit")
@require_http_methods(["GET", "POST"])
def kit_set(request: HttpRequest, kit_id: int) -> HttpResponse:
    """Change what a kit is called and holds."""
    return _kit_page(request, get_object_or_404(Kit, pk=kit_id))


@may("kit.edit")
@require_POST
def kit_set_break_up(request: HttpRequest, kit_id: int) -> HttpResponse:
    """Forget a kit; its items stay."""
    found = get_object_or_404(Kit, pk=kit_id)
    break_kit_up(kit_id=found.pk, by=staff(request).user, at=timezone.now())
    messages.success(request, f"{found} is broken up. Its items are still here.")
    return redirect("jobs:kit")


def _kit_page(request: HttpRequest, found: Kit | None) -> HttpResponse:
    data = request.POST if request.method == "POST" else None
    adding = "add_line" in request.POST
    form = KitForm(data, kit=found)
    lines = one_of_lines(
        more_lines(request.POST, prefix=ONE_OF) if adding else data, kit=found
    )
    if not adding and form.is_valid() and lines.is_valid():
        holds = KitContent(item_ids=form.item_ids(), one_of=positions_in(lines))
        if _kept(request, form, holds):
            return redirect("jobs:kit")
    context = {"form": form, "kit": found, "lines": lines, "adding": adding}
    return render(request, "jobs/kits/set.html", context)


def _kept(request: HttpRequest, form: KitForm, holds: KitContent) -> bool:
    name, by, at = form.cleaned_data["name"], staff(request).user, timezone.now()
    try:
        if form.kit is None:
            keep_kit(name=name, holds=holds, by=by, at=at)
        else:
            change_kit(kit_id=form.kit.pk, name=name, holds=holds, by=by, at=at)
    except DomainError as refusal:
        form.add_error("name", str(refusal))
        return False
    words = "is kept as a kit." if form.kit is None else "is changed."
    messages.success(request, f"{name} {words}")
    return True


def _category(request: HttpRequest, usual: KitCategory) -> KitCategory:
    wanted = request.GET.get("category", "")
    return KitCategory(wanted) if wanted in KitCategory.values else usual
