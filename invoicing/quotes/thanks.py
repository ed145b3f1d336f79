"""What a client reads after the yes: what to pay, and what happens next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from invoicing.invoices.models import Invoice
from invoicing.invoices.states import Purpose
from invoicing.quotes.letters import account_rows
from invoicing.quotes.light_words import QuotedSession, clocks
from invoicing.quotes.models import Acceptance, Quote
from invoicing.quotes.priced import Priced, priced
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words

TITLES = {
    True: "Thank you. One thing is left to do",
    False: "Thank you. All is set",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of what happens next."""

    when: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Thanks:
    """The page after the yes."""

    title: str
    name: str
    accepted_at: datetime
    held: str
    moved: str
    pay_title: str
    pay: tuple[tuple[str, str], ...]
    paid: str
    steps: tuple[Step, ...]
    price: Priced
    shows_pictures: bool
    has_session: bool


def thanks_for(quote: Quote, session: QuotedSession | None) -> Thanks:
    """Return the page after the yes, from what was agreed and what happened since."""
    acceptance, profile = quote.acceptance, StudioProfile.load()
    paid = _deposit_is_paid(quote)
    asks = bool(acceptance.deposit_minor) and not paid
    off = quote.booking is not None and quote.booking.status == BookingStatus.CANCELLED
    due = long_date(acceptance.deposit_due_on)
    return Thanks(
        title="This session was called off" if off else TITLES[asks],
        name=acceptance.name,
        accepted_at=acceptance.accepted_at,
        held=_held_words(quote.booking, due, asks=asks),
        moved=_moved_words(quote.booking, session),
        pay_title=f"Pay {money_words(acceptance.deposit)} by {due}",
        pay=_pay(quote, acceptance, profile) if asks and not off else (),
        paid=_paid_words(acceptance, paid=paid),
        steps=() if off else tuple(_steps(quote, acceptance, asks=asks)),
        price=priced(quote.snapshot or {}, acceptance.agreed_content()),
        shows_pictures=bool(quote.job.may_show_pictures),
        has_session=quote.booking is not None and not off,
    )


def _deposit_is_paid(quote: Quote) -> bool:
    deposits = Invoice.objects.filter(job=quote.job, purpose=Purpose.DEPOSIT)
    unsettled = Invoice.objects.unsettled().filter(pk__in=deposits)
    return deposits.exists() and not unsettled.exists()


def _held_words(booking: Booking | None, due: str, *, asks: bool) -> str:
    if booking is None:
        return "We agree the date with you by phone or e-mail."
    day = long_date(booking.local_start.date())
    until = f" until {due}. Your deposit makes it firm." if asks else "."
    return {
        BookingStatus.PROPOSED: (
            f"{day} was pencilled in for you until {due} and is free again. Ring us: "
            "if nobody took it, it is still yours."
        ),
        BookingStatus.PENCILLED: f"{day} is pencilled in for you{until}",
        BookingStatus.CONFIRMED: f"{day} is firm.",
        BookingStatus.COMPLETED: f"Your session was on {day}.",
        BookingStatus.CANCELLED: (
            f"{day} is not held any more. Ring us, and we will find a way."
        ),
    }[BookingStatus(booking.status)]


def _moved_words(booking: Booking | None, session: QuotedSession | None) -> str:
    if booking is None or session is None or booking.status == BookingStatus.CANCELLED:
        return ""
    start, end = booking.local_start, booking.local_end
    day, times = long_date(start.date()), clocks(start, end)
    if (day, times, booking.place.name) == (session.day, session.clock, session.place):
        return ""
    return f"We moved it since: now {day}, {times}, {booking.place.name}."


def _pay(
    quote: Quote, acceptance: Acceptance, profile: StudioProfile
) -> tuple[tuple[str, str], ...]:
    amount = ("Amount", money_words(acceptance.deposit))
    return (amount, *account_rows(profile), ("Reference", quote.number))


def _paid_words(acceptance: Acceptance, *, paid: bool) -> str:
    if not acceptance.deposit_minor:
        return "Nothing is due now."
    return (
        f"Your deposit of {money_words(acceptance.deposit)} has arrived."
        if paid
        else ""
    )


def _steps(quote: Quote, acceptance: Acceptance, *, asks: bool) -> list[Step]:
    steps: list[Step] = []
    deposit = money_words(acceptance.deposit)
    if asks:
        firm = "The date is firm, and the" if quote.booking else "The"
        steps.append(
            Step(
                when=f"By {long_date(acceptance.deposit_due_on)}",
                what=f"Your {deposit} arrives. {firm} invoice for it comes by e-mail.",
            )
        )
    if quote.booking:
        steps += _session_steps(quote.booking)
    if quote.pictures_by_on:
        day = long_date(quote.pictures_by_on)
        steps.append(Step(when=f"By {day}", what="You have your pictures."))
    rest = acceptance.total - acceptance.deposit
    if rest.minor:
        days = (quote.snapshot or {})["payment_days"]
        what = f"The rest, {money_words(rest)}, is due."
        if not acceptance.deposit_minor:
            what = f"The price, {money_words(rest)}, is due."
        steps.append(Step(when=f"{days} days after its invoice", what=what))
    return steps


def _session_steps(booking: Booking) -> list[Step]:
    start = booking.local_start
    sheet = "Your session sheet: the way there, what to wear, the plan."
    meet = booking.place.meeting_point
    before = long_date((start - timedelta(days=2)).date())
    return [
        Step(when=f"About {before}", what=sheet),
        Step(
            when=f"{long_date(start.date())}, {start:%H:%M}",
            what=f"We meet at {meet}." if meet else f"We meet: {booking.place.name}.",
        ),
    ]
