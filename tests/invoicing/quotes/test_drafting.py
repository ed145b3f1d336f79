from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from invoicing.quotes.figures import figures_of
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import (
    LineWish,
    QuoteError,
    QuoteWish,
    StaleQuoteError,
    change_quote,
    new_version,
    start_quote,
)
from invoicing.quotes.session_forms import saved_session
from invoicing.quotes.sessions import HeldSessionError, SessionWish
from invoicing.tax import Document, Line, totals
from jobs.bookings.operations import StaleBookingError, pencil_booking
from jobs.clients.models import ClientKind
from studio.profile.models import DepositKind
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_place,
    make_profile,
)
from tests.make_quotes import PRINT, SESSION, TERMS, make_quote, sent_quote

pytestmark = pytest.mark.django_db

PICTURES = LineWish(
    description="Pictures",
    quantity_thousandths=8000,
    unit_price_minor=3500,
    tax_rate_basis_points=2000,
)


def change(quote: Quote, **fields: object) -> Quote:
    wish = QuoteWish(terms=TERMS, lines=(SESSION,), session=saved_session(quote))
    return change_quote(
        quote_id=quote.pk,
        wish=replace(wish, **fields),  # type: ignore[arg-type]
        edit_version=quote.edit_version,
        by=quote.job.owner,
        at=NOON,
    )


def test_a_family_sees_one_price_with_the_tax_in_it() -> None:
    # 515.00 with 20 % in it holds 85.83: 515 / 6, common practice, no source.
    quote = make_quote(lines=(SESSION, replace(PRINT, optional=False)))

    figures = figures_of(quote)

    assert figures.gross
    assert figures.total.amount == Decimal("515.00")
    assert figures.tax.amount == Decimal("85.83")


def test_an_organisation_pays_the_tax_on_top() -> None:
    client = make_client(kind=ClientKind.ORGANISATION)
    quote = make_quote(make_job(client=client), lines=(PICTURES,))

    figures = figures_of(quote)

    assert figures.before_tax.amount == Decimal("280.00")
    assert figures.total.amount == Decimal("336.00")
    assert [str(tax.amount) for _, tax in figures.tax_rows] == ["56.00"]


@pytest.mark.parametrize("basis", ["gross", "net"])
def test_totals_are_those_of_the_tax_core(basis: str) -> None:
    kind = ClientKind.PERSON if basis == "gross" else ClientKind.ORGANISATION
    lines = (
        SESSION,
        PICTURES,
        LineWish(
            description="Travel",
            quantity_thousandths=46_500,
            unit_price_minor=45,
            tax_rate_basis_points=500,
        ),
    )
    quote = make_quote(make_job(client=make_client(kind=kind)), lines=lines)

    asked = totals(
        Document(
            currency="GBP",
            price_basis="gross" if basis == "gross" else "net",
            lines=[
                Line(
                    quantity=Decimal(line.quantity_thousandths) / 1000,
                    unit_price=Decimal(line.unit_price_minor) / 100,
                    rate=Decimal(line.tax_rate_basis_points) / 100,
                )
                for line in lines
            ],
        )
    )
    figures = figures_of(quote)
    assert figures.total.amount == asked.gross
    assert figures.tax.amount == asked.tax
    assert figures.before_tax.amount == asked.net


def test_a_studio_outside_tax_has_no_tax_in_its_quotes() -> None:
    make_profile()
    quote = make_quote(lines=(replace(SESSION, tax_rate_basis_points=0),))

    assert figures_of(quote).tax.minor == 0
    assert figures_of(quote).total.amount == Decimal("420.00")


def test_own_costs_follow_the_quantity_and_leave_extras_out() -> None:
    hours = replace(PICTURES, quantity_thousandths=4500, cost_minor=1801)
    quote = make_quote(lines=(hours, replace(PRINT, cost_minor=4100)))

    figures = figures_of(quote)

    assert figures.costs.minor == 8105  # 4.5 x 18.01 is 81.045, half a penny goes up
    assert figures.left == figures.before_tax - figures.costs


def test_a_deposit_is_a_share_or_a_round_sum_but_never_more_than_the_price() -> None:
    quote = make_quote(lines=(replace(PRINT, optional=False),))
    assert figures_of(quote).deposit.minor == 9_500

    percent = replace(
        TERMS, deposit_kind=DepositKind.PERCENT, deposit_percent=33, deposit_minor=0
    )
    quote = change(quote, terms=percent)
    assert figures_of(quote).deposit.minor == 13_860


def test_a_discount_larger_than_the_price_is_refused() -> None:
    quote = make_quote()

    with pytest.raises(QuoteError, match="larger than the price"):
        change(quote, terms=replace(TERMS, discount_minor=42_001))
    nothing = replace(SESSION, unit_price_minor=0)
    lines = (nothing, replace(nothing, tax_rate_basis_points=0))
    with pytest.raises(QuoteError, match="larger than the price"):
        change(quote, terms=replace(TERMS, discount_minor=1), lines=lines)


def test_starting_twice_is_one_quote() -> None:
    make_profile()
    job = make_job()

    first = start_quote(job=job, by=job.owner, at=NOON)
    second = start_quote(job=job, by=job.owner, at=NOON)

    assert first == second
    assert first.number == "Q-2026-001"


def test_a_stale_edit_changes_nothing() -> None:
    quote = make_quote()

    with pytest.raises(StaleQuoteError):
        change_quote(
            quote_id=quote.pk,
            wish=QuoteWish(terms=TERMS, lines=()),
            edit_version=quote.edit_version - 1,
            by=quote.job.owner,
            at=NOON,
        )

    assert quote.lines.count() == 2


def test_a_quote_proposes_the_session_that_it_names_and_wants_the_owner() -> None:
    make_profile()
    ada = make_person()
    job = make_job(by=ada)
    start = NOON + timedelta(days=20)
    session = SessionWish(
        place=make_place(), starts_at=start, ends_at=start + timedelta(hours=2)
    )

    quote = start_quote(
        job=job,
        by=ada,
        at=NOON,
        wish=QuoteWish(terms=TERMS, lines=(SESSION,), session=session),
    )

    booking = job.bookings.get()
    assert quote.booking == booking
    assert booking.starts_at == start
    assert [one.person for one in booking.reservations.all()] == [ada]
    assert not booking.reservations.get().holds


def test_a_proposed_session_moves_with_the_quote_and_keeps_what_it_wants() -> None:
    quote = make_quote()
    session = saved_session(quote)
    assert session is not None
    later = replace(session, ends_at=session.ends_at + timedelta(hours=1))

    change(quote, session=later)

    assert quote.job.bookings.get().ends_at == later.ends_at
    with pytest.raises(StaleBookingError):
        change(Quote.objects.get(pk=quote.pk), session=session)


def test_a_held_session_is_not_moved_from_a_quote() -> None:
    quote = make_quote()
    booking = quote.job.bookings.get()
    pencil_booking(booking_id=booking.pk, until=None, by=quote.job.owner, at=NOON)
    session = saved_session(quote)
    assert session is not None

    change(quote, session=session)
    later = replace(session, ends_at=session.ends_at + timedelta(hours=1))
    with pytest.raises(HeldSessionError):
        change(Quote.objects.get(pk=quote.pk), session=later)


def test_a_sent_quote_is_not_changed_but_gets_a_next_version() -> None:
    quote = sent_quote()
    with pytest.raises(QuoteError, match="write a new version"):
        change(quote)

    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=NOON)
    again = new_version(quote_id=quote.pk, by=quote.job.owner, at=NOON)

    assert second == again
    assert (second.number, second.version) == (quote.number, 2)
    assert [line.description for line in second.lines.all()] == [
        line.description for line in quote.lines.all()
    ]
    assert second.booking == quote.booking


def test_a_called_off_session_is_not_quoted_again() -> None:
    quote = sent_quote()
    quote.job.bookings.update(status="CANCELLED")
    fresh = make_booking(job=quote.job)

    second = new_version(quote_id=quote.pk, by=quote.job.owner, at=NOON)

    assert second.booking == fresh
