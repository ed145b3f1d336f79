"""Builders of quotes."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from invoicing.quotes.models import Quote
from invoicing.quotes.operations import (
    LineWish,
    QuoteTerms,
    QuoteWish,
    change_quote,
    start_quote,
)
from invoicing.quotes.sending import letter_for, send_quote
from invoicing.quotes.session_forms import saved_session
from jobs.jobs.models import Job
from studio.links.models import PrivateLink
from studio.links.operations import token_of
from studio.profile.models import DepositKind
from tests.make import NOON, make_booking, make_job, make_profile

SESSION = LineWish(
    description="Family session",
    unit="session",
    unit_price_minor=42_000,
    tax_rate_basis_points=2000,
)
PRINT = LineWish(
    description="One framed print",
    unit_price_minor=9_500,
    tax_rate_basis_points=2000,
    optional=True,
)
TERMS = QuoteTerms(
    valid_until_on=(NOON + timedelta(days=14)).date(),
    deposit_kind=DepositKind.AMOUNT,
    deposit_minor=10_000,
)


def make_quote(
    job: Job | None = None,
    *,
    lines: tuple[LineWish, ...] = (SESSION, PRINT),
    terms: QuoteTerms = TERMS,
    with_session: bool = True,
    at: datetime = NOON,
) -> Quote:
    make_profile()
    job = job or make_job("Your family session")
    if with_session and not job.bookings.exists():
        make_booking(job=job, starts_at=at + timedelta(days=10))
    quote = start_quote(job=job, by=job.owner, at=at)
    wish = QuoteWish(terms=terms, lines=lines, session=saved_session(quote))
    return change_quote(
        quote_id=quote.pk,
        wish=wish,
        edit_version=quote.edit_version,
        by=job.owner,
        at=at,
    )


def sent_quote(
    job: Job | None = None, *, at: datetime = NOON, **fields: object
) -> Quote:
    quote = make_quote(job, at=at, **fields)  # type: ignore[arg-type]
    by = quote.job.owner
    sent = send_quote(quote_id=quote.pk, letter=letter_for(quote), by=by, at=at)
    return Quote.objects.get(pk=sent.pk)


def fresh_draft(job: Job | None = None, **fields: Any) -> Quote:
    """Draft a quote now, by the real clock, ready to be sent."""
    now = timezone.now()
    terms = replace(TERMS, valid_until_on=(now + timedelta(days=14)).date())
    return make_quote(job, at=now, **{"terms": terms, **fields})


def open_quote(job: Job | None = None, **fields: Any) -> Quote:
    """Send a quote now, by the real clock, so that its private page is open."""
    now = timezone.now()
    terms = replace(TERMS, valid_until_on=(now + timedelta(days=14)).date())
    return sent_quote(job, at=now, **{"terms": terms, **fields})


def posted_quote(lines: list[dict[str, str]], **fields: str) -> dict[str, str]:
    """Return what the builder's page posts."""
    until = (timezone.now() + timedelta(days=14)).date()
    posted = {
        "valid_until_on": until.isoformat(),
        "discount_in": "PERCENT",
        "deposit": "25",
        "deposit_in": "PERCENT",
        "deposit_days": "7",
        "payment_days": "14",
        "line-TOTAL_FORMS": str(len(lines)),
        "line-INITIAL_FORMS": "0",
    }
    for place, line in enumerate(lines):
        for name, value in line.items():
            posted[f"line-{place}-{name}"] = value
    return posted | fields


def path_of(quote: Quote) -> str:
    link = PrivateLink.objects.filter(object_id=quote.pk).latest("pk")
    return f"/p/quote/{token_of(link)}/"
