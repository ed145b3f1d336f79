"""Builders of quotes."""

from datetime import timedelta

from invoicing.quotes.models import Quote
from invoicing.quotes.operations import (
    LineWish,
    QuoteTerms,
    change_quote,
    letter_for,
    send_quote,
    start_quote,
)
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
) -> Quote:
    make_profile()
    job = job or make_job("Your family session")
    if with_session and not job.bookings.exists():
        make_booking(job=job)
    quote = start_quote(job=job, by=job.owner, at=NOON)
    return change_quote(
        quote_id=quote.pk,
        terms=terms,
        lines=lines,
        edit_version=quote.edit_version,
        by=job.owner,
        at=NOON,
    )


def sent_quote(job: Job | None = None, **fields: object) -> Quote:
    quote = make_quote(job, **fields)  # type: ignore[arg-type]
    subject, body = letter_for(quote)
    by = quote.job.owner
    send_quote(quote_id=quote.pk, subject=subject, body=body, by=by, at=NOON)
    quote.refresh_from_db()
    return quote


def path_of(quote: Quote) -> str:
    link = PrivateLink.objects.filter(object_id=quote.pk).latest("pk")
    return f"/p/quote/{token_of(link)}/"
