"""A late invoice: what was said, what may be said next, and what interest comes to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models.functions import Coalesce

from invoicing.invoices.models import Invoice
from invoicing.invoices.queries import InvoiceRow, row_of
from invoicing.invoices.states import Purpose
from invoicing.owed.interest import LateInterest, Rate, compensation, late_interest
from invoicing.owed.models import LateBand, LateRate, Promise, Reminder
from invoicing.payments.models import Method
from jobs.clients.models import ClientKind
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words, plain_number


@dataclass(frozen=True, slots=True, kw_only=True)
class Owing:
    """What a business debt has come to beside its sum, with the working."""

    interest: LateInterest
    fixed: Money
    sum: Money

    @property
    def interest_sum(self) -> Money:
        """The interest alone."""
        return self.sum - self.fixed

    @property
    def working(self) -> list[str]:
        """Each stretch of days in words."""
        return [
            f"{one.days} days at {plain_number(Decimal(one.basis_points) / 100)}% on "
            f"{money_words(Money.from_minor(one.balance_minor, self.sum.currency))}"
            for one in self.interest.stretches
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chase:
    """One late invoice, as its page shows it."""

    invoice: Any
    row: InvoiceRow
    reminders: tuple[Reminder, ...]
    promises: tuple[Promise, ...]
    owing: Owing | None
    next_step: int
    wants_rates: bool
    """Whether interest could be worked out if there were rates."""


def chase_of(invoice_id: int, *, on: date) -> Chase | None:
    """Return an unsettled invoice with its reminders; None where nothing is open."""
    found: Any = (
        Invoice.objects.unsettled()
        .select_related("client", "job")
        .filter(pk=invoice_id)
        .first()
    )
    if found is None:
        return None
    reminders = tuple(found.reminders.select_related("message", "sent_by"))
    return Chase(
        invoice=found,
        row=row_of(found, on=on),
        reminders=reminders,
        promises=tuple(found.promises.select_related("noted_by")),
        owing=owing_of(found, on=on),
        next_step=len(reminders) + 1,
        wants_rates=may_bear_interest(found, on=on) and not LateRate.objects.exists(),
    )


def may_bear_interest(invoice: Invoice, *, on: date) -> bool:
    """Say whether a paper is of a kind that bears interest, and past its due day."""
    is_late = not invoice.is_credit_note and invoice.due_on < on
    is_charge = invoice.purpose == Purpose.CHARGE  # no interest on interest
    is_firm = invoice.client.kind == ClientKind.ORGANISATION
    return is_late and is_firm and not is_charge


def owing_of(invoice: Invoice, *, on: date) -> Owing | None:
    """Return interest and fixed sum of a late business debt; None for anybody else.

    What was credited was never owed, so it bears none. The fixed sum goes by what was
    open when the debt became late.
    """
    if not may_bear_interest(invoice, on=on) or _is_given_up(invoice):
        return None
    rows = list(LateRate.objects.all())
    if not rows:
        return None
    at_due = next((row for row in rows if row.from_on <= invoice.due_on), rows[-1])
    paid, debt = _paid(invoice), invoice.gross_minor - _credited(invoice)
    interest = late_interest(
        gross_minor=debt,
        due_on=invoice.due_on,
        to=on,
        paid=paid,
        rates=[
            Rate(from_on=row.from_on, basis_points=row.basis_points) for row in rows
        ],
        is_fixed=at_due.is_fixed,
    )
    if not interest.minor:
        return None
    bands = list(LateBand.objects.values_list("least_minor", "sum_minor"))
    late = debt - sum(minor for day, minor in paid if day <= invoice.due_on)
    fixed = compensation(late, bands)
    currency = invoice.currency
    return Owing(
        interest=interest,
        fixed=Money.from_minor(fixed, currency),
        sum=Money.from_minor(interest.minor + fixed, currency),
    )


def words_of(chase: Chase) -> tuple[str, str]:
    """Return subject and words of the next reminder, kinder first and plainer later."""
    studio = StudioProfile.load().trading_name
    row, client = chase.row, chase.invoice.client
    opening = {
        1: "This may have slipped by: invoice",
        2: "I am still waiting for the payment of invoice",
    }.get(chase.next_step, "Please see to this now. Not yet paid is invoice")
    body = (
        f"Dear {client.addressee},\n\n{opening} {row.number} for "
        f"“{row.job_title}” over {money_words(row.total)} was due on "
        f"{long_date(row.due_on)}. {money_words(row.balance)} is open. The invoice is "
        "attached again, with where to pay.\n\nIf the money is on its way, thank you; "
        f"if something is wrong, tell me.\n\n{studio}\n"
    )
    return f"Invoice {row.number}: {money_words(row.balance)} is open", body


def _paid(invoice: Invoice) -> list[tuple[date, int]]:
    stands = invoice.allocations.filter(payment__reversal__isnull=True)
    day = Coalesce("moved_on", "payment__received_on")
    return list(stands.values_list(day, "amount_minor"))


def _is_given_up(invoice: Invoice) -> bool:
    stands = invoice.allocations.filter(payment__reversal__isnull=True)
    return stands.filter(payment__method=Method.LOSS).exists()


def _credited(invoice: Invoice) -> int:
    return sum(invoice.credit_notes.values_list("gross_minor", flat=True))
