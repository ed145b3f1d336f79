"""What a client reads after the yes: what to pay, and what happens next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from invoicing.invoices.content import Content
from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Purpose
from invoicing.quotes.models import Quote
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of what happens next."""

    when: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Thanks:
    """The page after the yes."""

    name: str
    accepted_at: datetime
    zone: str
    held_words: str
    pay: tuple[tuple[str, str], ...]
    pay_title: str
    steps: tuple[Step, ...]
    lines: tuple[tuple[str, str], ...]
    total: str
    is_paid: bool


def thanks_for(quote: Quote) -> Thanks:
    """Return the page after the yes, from what was agreed and paid since."""
    acceptance, profile = quote.acceptance, StudioProfile.load()
    content = Content.from_json(acceptance.content)
    total = Money.from_minor(acceptance.total_minor, quote.currency)
    deposit = Money.from_minor(acceptance.deposit_minor, quote.currency)
    paid = _deposit_is_paid(quote)
    due = acceptance.deposit_due_on
    asks = bool(deposit.minor) and not paid
    nets = content.full_totals().line_nets
    return Thanks(
        name=acceptance.name,
        accepted_at=acceptance.accepted_at,
        zone=profile.time_zone,
        held_words=_held_words(quote.booking, due, asks=asks),
        pay=_pay(quote, deposit, profile) if asks else (),
        pay_title=f"Pay {money_words(deposit)} by {long_date(due)}",
        steps=tuple(_steps(quote, total - deposit, due, asks=asks)),
        lines=tuple(
            (line.description, money_words(Money(net, quote.currency)))
            for line, net in zip(content.lines, nets, strict=True)
        ),
        total=money_words(total),
        is_paid=paid,
    )


def _deposit_is_paid(quote: Quote) -> bool:
    deposits = Invoice.objects.filter(job=quote.job, purpose=Purpose.DEPOSIT)
    unsettled = Invoice.objects.unsettled().filter(pk__in=deposits)
    return deposits.exists() and not unsettled.exists()


def _held_words(booking: Booking | None, due: date, *, asks: bool) -> str:
    if booking is None:
        return "We agree the date with you by phone or e-mail."
    day = long_date(booking.local_start.date())
    if booking.status == BookingStatus.CONFIRMED:
        return f"{day} is firm."
    if asks:
        return (
            f"{day} is pencilled in for you until {long_date(due)}. Your deposit "
            "makes it firm."
        )
    return f"{day} is pencilled in for you."


def _pay(
    quote: Quote, deposit: Money, profile: StudioProfile
) -> tuple[tuple[str, str], ...]:
    rows = (
        ("Amount", money_words(deposit)),
        ("Account name", profile.account_name),
        ("Sort code", profile.sort_code),
        ("Account number", profile.account_number),
        ("IBAN", profile.iban),
        ("BIC", profile.bic),
        ("Reference", quote.number),
    )
    return tuple((label, value) for label, value in rows if value)


def _steps(quote: Quote, rest: Money, due: date, *, asks: bool) -> list[Step]:
    steps: list[Step] = []
    if asks:
        steps.append(
            Step(
                when=f"By {long_date(due)}",
                what="Your deposit arrives. The date is firm, and your invoice for it "
                "comes by e-mail.",
            )
        )
    if quote.booking:
        start = quote.booking.local_start
        before = long_date((start - timedelta(days=2)).date())
        steps += [
            Step(
                when=f"About {before}",
                what="Your session sheet: the way there, what to wear, the plan.",
            ),
            Step(when=f"{long_date(start.date())}, {start:%H:%M}", what="We meet."),
        ]
    if quote.pictures_by_on:
        steps.append(
            Step(
                when=f"By {long_date(quote.pictures_by_on)}",
                what="You get the pictures.",
            )
        )
    if rest.minor:
        steps.append(
            Step(
                when=f"{quote.payment_days} days after its invoice",
                what=f"The rest, {money_words(rest)}, is due.",
            )
        )
    return steps
