"""The first day of a studio, and Settings: pages over the same sections."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from studio.errors import DomainError
from studio.forms import StudioForm
from studio.http import staff
from studio.panels import draw_panels
from studio.people.access import may
from studio.profile.models import StudioProfile
from studio.profile.money_form import CURRENCIES
from studio.profile.operations import finish_set_up
from studio.profile.queries import family_sees
from studio.profile.usual_words import USUAL_WORDS
from studio.sections import Section, first_sections, kept_sections


@may("studio.set_up")
@require_safe
def first_run(request: HttpRequest) -> HttpResponse:
    """Go to the first step that is open."""
    profile = StudioProfile.load()
    for section in first_sections():
        if not section.told(profile):
            return redirect("studio:first_step", section.slug)
    return redirect("studio:first_ready")


@may("studio.set_up")
@require_http_methods(["GET", "POST"])
def first_step(request: HttpRequest, slug: str) -> HttpResponse:
    """Ask one step; saving goes on to the next."""
    steps = first_sections()
    section = _section(steps, slug)
    place = steps.index(section)
    following = steps[place + 1] if place + 1 < len(steps) else None
    profile = StudioProfile.load()
    form = section.make_form(_posted(request), profile)
    if form.is_valid() and _kept(request, section, form):
        if following:
            return redirect("studio:first_step", following.slug)
        return _finish(request)
    rows = [(n, one, one.told(profile)) for n, one in enumerate(steps, start=1)]
    context = {
        "section": section,
        "form": form,
        "number": place + 1,
        "steps": rows,
        "above": rows[:place],
        "below": rows[place + 1 :],
        "following": following,
        "sees": _family_sees_now(form, profile),
    }
    return _answer(request, "studio/first_run/step.html", context, form)


@may("studio.set_up")
@require_POST
def first_finish(request: HttpRequest) -> HttpResponse:
    """End the first day; what was left waits in Settings."""
    return _finish(request)


@may("studio.set_up")
@require_safe
def first_ready(request: HttpRequest) -> HttpResponse:
    """Say what stands, what waits, and what to do first."""
    profile = StudioProfile.load()
    context = {
        "rows": [(one, one.told(profile)) for one in first_sections()],
        "is_set_up": profile.set_up_at is not None,
        "offers": draw_panels("first_run.ready", staff(request), profile),
    }
    return render(request, "studio/first_run/ready.html", context)


@may("studio.set_up")
@require_safe
def tax_says(request: HttpRequest) -> HttpResponse:
    """Say what a family sees under the tax that is being typed."""
    profile = StudioProfile.load()
    currency = request.GET.get("currency", "")
    if currency not in CURRENCIES:
        currency = profile.currency
    registered = request.GET.get("tax_registered") == "yes"
    sees = family_sees(
        currency=currency,
        tax_name=request.GET.get("tax_name", "").strip()[:20] or "VAT",
        rate=_rate(request.GET.get("tax_rate", "")) if registered else Decimal(0),
        is_in_list="list_prices_include_tax" in request.GET,
    )
    return render(request, "studio/first_run/_sees.html", {"sees": sees})


@may("studio.set_up")
@require_safe
def settings(request: HttpRequest) -> HttpResponse:
    """Show every section with what it says."""
    profile = StudioProfile.load()
    rows = [(one, one.told(profile)) for one in kept_sections()]
    return render(request, "studio/settings/settings.html", {"rows": rows})


@may("studio.set_up")
@require_http_methods(["GET", "POST"])
def settings_section(request: HttpRequest, slug: str) -> HttpResponse:
    """Show one section and keep its answers."""
    section = _section(kept_sections(), slug)
    profile = StudioProfile.load()
    form = section.make_form(_posted(request), profile)
    if form.is_valid() and _kept(request, section, form):
        messages.success(request, f"“{section.name}” is saved.")
        return redirect("studio:settings")
    context = {
        "section": section,
        "form": form,
        "sees": _family_sees_now(form, profile),
        "suggestions": _suggestions(form),
    }
    return _answer(request, "studio/settings/section.html", context, form)


def _section(sections: list[Section], slug: str) -> Section:
    for section in sections:
        if section.slug == slug:
            return section
    raise Http404(slug)


def _posted(request: HttpRequest) -> Any:
    return request.POST if request.method == "POST" else None


def _kept(request: HttpRequest, section: Section, form: StudioForm) -> bool:
    try:
        section.save(form, staff(request).user, timezone.now())
    except DomainError as refusal:
        form.add_error(section.blame, str(refusal))
        return False
    return True


def _finish(request: HttpRequest) -> HttpResponse:
    finish_set_up(by=staff(request).user, at=timezone.now())
    return redirect("studio:first_ready")


def _answer(
    request: HttpRequest, template: str, context: dict[str, Any], form: StudioForm
) -> HttpResponse:
    status = 422 if form.is_bound else 200
    return render(request, template, context, status=status)


def _family_sees_now(
    form: StudioForm, profile: StudioProfile
) -> tuple[str, str] | None:
    """Return the live sentence for a form that asks about tax, as it stands."""
    if "tax_registered" not in form.fields:
        return None
    registered = form["tax_registered"].value() == "yes"
    currency = form["currency"].value()
    return family_sees(
        currency=currency if currency in CURRENCIES else profile.currency,
        tax_name=form["tax_name"].value() or "VAT",
        rate=_rate(str(form["tax_rate"].value() or "")) if registered else Decimal(0),
        is_in_list=bool(form["list_prices_include_tax"].value()),
    )


def _rate(typed: str) -> Decimal:
    try:
        rate = Decimal(typed.strip().removesuffix("%").replace(",", ".")[:8])
    except InvalidOperation:
        return Decimal(0)
    return rate if rate.is_finite() and 0 <= rate <= 100 else Decimal(0)


def _suggestions(form: StudioForm) -> list[tuple[str, str, str]]:
    """Return words to start from for each text that is still empty."""
    return [
        (name, str(form.fields[name].label), words)
        for name, words in USUAL_WORDS.items()
        if name in form.fields and not form[name].value()
    ]
