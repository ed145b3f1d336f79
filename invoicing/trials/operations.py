"""A quote that an owner writes to themselves, to see what clients will see."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from invoicing.prices.basis import price_on
from invoicing.prices.models import PriceItem
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import (
    LineWish,
    QuoteTerms,
    QuoteWish,
    blank_quote,
    start_quote,
)
from jobs.clients.models import Client
from jobs.clients.operations import ClientDetails, add_client
from jobs.jobs.models import Job
from jobs.jobs.operations import Enquiry, open_job
from studio.people.models import Person
from studio.profile.models import DepositKind, StudioProfile

TITLE: Final = "A quote to try out"
SAMPLE: Final = LineWish(description="One session", unit_price_minor=42_000)


@transaction.atomic
def start_trial(*, by: Person, at: datetime) -> Quote:
    """Draft a quote to the studio itself, from its first price; one that was begun
    goes on."""
    standing = Job.objects.open().filter(title=TITLE).order_by("-pk").first()
    if standing:
        return start_quote(job=standing, by=by, at=at)
    job = open_job(
        client=_themselves(by, at), enquiry=Enquiry(title=TITLE), by=by, at=at
    )
    blank = blank_quote(job, by=by, at=at)
    terms = QuoteTerms(
        valid_until_on=blank.valid_until_on,
        deposit_kind=DepositKind(blank.deposit_kind),
        deposit_percent=blank.deposit_percent,
        deposit_minor=blank.deposit_minor,
        deposit_days=blank.deposit_days,
        payment_days=blank.payment_days,
    )
    wish = QuoteWish(terms=terms, lines=[_line(blank)])
    return start_quote(job=job, by=by, at=at, wish=wish)


def _themselves(by: Person, at: datetime) -> Client:
    profile = StudioProfile.load()
    details = ClientDetails(
        name=profile.owner_name or by.name,
        email=profile.email or by.email,
        phone=profile.phone or by.phone,
        address=profile.address,
    )
    return add_client(details=details, by=by, at=at)


def _line(quote: Quote) -> LineWish:
    item = PriceItem.objects.offered().order_by("is_extra", "pk").first()
    if item is None:
        return SAMPLE
    profile = StudioProfile.load()
    return LineWish(
        description=item.name,
        detail=item.detail,
        unit=item.unit,
        unit_price_minor=price_on(item, quote.basis, profile),
        tax_rate_basis_points=item.rate_under(profile),
        cost_minor=item.cost_minor,
    )
