"""Totals of a quote that is still being typed."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from invoicing.invoices.content import Content, ContentLine
from invoicing.quotes.forms import QuoteForm, wishes
from invoicing.quotes.models import Basis, Quote
from invoicing.quotes.queries import QuoteFigures, figures_from
from jobs.jobs.models import Job
from studio.people.models import Person
from studio.profile.models import StudioProfile


def default_quote(job: Job, *, by: Person, at: datetime) -> Quote:
    """Return a quote with the studio's usual terms, not saved."""
    profile = StudioProfile.load()
    today = at.astimezone(profile.zone).date()
    gross = job.client.sees_tax_inclusive_prices
    return Quote(
        job=job,
        booking=job.bookings.live().order_by("starts_at").last(),
        drafted_by=by,
        drafted_at=at,
        currency=profile.currency,
        price_basis=Basis.GROSS if gross else Basis.NET,
        valid_until_on=today + timedelta(days=profile.quote_days),
        deposit_kind=profile.deposit_kind,
        deposit_percent=profile.deposit_percent,
        deposit_minor=profile.deposit_minor,
        deposit_days=profile.deposit_days,
        payment_days=profile.payment_days,
    )


def preview_figures(quote: Quote, form: QuoteForm, lines: Any) -> QuoteFigures | None:
    """Return the sums of what is typed so far; None while nothing adds up yet.

    Lines that are not complete are left out; terms that are not are ignored.
    """
    profile = StudioProfile.load()
    if form.is_bound:
        form.is_valid()
        good = [one for one in lines.forms if one.is_valid()]
        typed = wishes(good, profile)
    else:
        typed = []
    kept = (
        [wish for wish in typed if not wish.optional]
        if form.is_bound
        else [line for line in _stored(quote) if not line.optional]
    )
    if not kept:
        return None
    shown = _with_terms(quote, form)
    content = Content(
        currency=quote.currency,
        price_basis=quote.basis,
        lines=tuple(
            ContentLine(
                description=wish.description,
                quantity_thousandths=wish.quantity_thousandths,
                unit_price_minor=wish.unit_price_minor,
                tax_rate_basis_points=wish.tax_rate_basis_points,
            )
            for wish in kept
        ),
        discount_percent_hundredths=shown.discount_percent_hundredths,
        discount_minor=shown.discount_minor,
    )
    return figures_from(shown, content, sum(wish.cost_minor for wish in kept))


def _stored(quote: Quote) -> list[Any]:
    return list(quote.lines.all()) if quote.pk else []


def _with_terms(quote: Quote, form: QuoteForm) -> Quote:
    if not form.is_bound or not form.is_valid():
        return quote
    terms = form.terms()
    for name in (
        "discount_percent_hundredths",
        "discount_minor",
        "deposit_kind",
        "deposit_percent",
        "deposit_minor",
    ):
        setattr(quote, name, getattr(terms, name))
    return quote
