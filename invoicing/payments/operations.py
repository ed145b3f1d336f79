"""Recording money, and what follows from it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from django.db import transaction

from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.operations import open_drafts
from invoicing.invoices.states import FINAL, Purpose
from invoicing.payments.coins import coin_of, in_coins, settled_by
from invoicing.payments.models import Allocation, Method, Payment, PaymentReversal
from invoicing.periods.operations import (
    BooksDayError,
    hold_books,
    refuse_closed,
)
from invoicing.vouchers.models import Voucher
from jobs.bookings.holding import ClashError
from jobs.bookings.operations import confirm_booking
from jobs.bookings.states import BookingStatus
from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.jobs.operations import close_as_paid
from jobs.jobs.states import JobStage
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person
from studio.profile.models import StudioProfile


class PaymentError(DomainError):
    """A payment does not fit what it is said to settle."""


class PaymentDayError(PaymentError, BooksDayError):
    """A payment does not fit the day that it is given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """What came in, when and how. `form_key` makes a form sent twice count once."""

    amount_minor: int
    currency: str
    received_on: date
    method: Method = Method.TRANSFER
    reference: str = ""
    form_key: str
    voucher_id: int | None = None
    rounding_minor: int = 0


@dataclass(slots=True)
class Receipt:
    """A payment that was recorded, and what followed from it."""

    payment: Payment
    confirmed: list[str] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)
    closed: list[str] = field(default_factory=list)


@transaction.atomic
def record_payment(
    *,
    money: Received,
    shares: dict[int, int],
    by: Person,
    at: datetime,
    client: Client | None = None,
) -> Receipt:
    """Record money received, and settle invoices with it.

    `shares` maps the ids of invoices of one client to minor units; without any, it is
    money on account of the `client`. Cash at the balance in coins settles all of it.
    A settled deposit confirms its job's session; a delivered job with all its money
    in is closed.
    Raises PaymentError, BooksDayError.
    """
    if before := Payment.objects.filter(form_key=money.form_key).first():
        return Receipt(before)
    invoices = settleable(money.currency, shares) if shares or client is None else []
    money = _rounded(money, invoices, shares)
    if sum(shares.values()) > money.amount_minor + money.rounding_minor:
        raise PaymentError("The shares add up to more than the payment.")
    payment = write_payment(money, client or invoices[0].client, by=by, at=at)
    Allocation.objects.bulk_create(
        Allocation(payment=payment, invoice=invoice, amount_minor=shares[invoice.pk])
        for invoice in invoices
    )
    return follow_up(Receipt(payment), invoices, by=by, at=at)


def write_payment(
    money: Received,
    client: Client,
    *,
    by: Person,
    at: datetime,
    pays_back: Payment | None = None,
) -> Payment:
    """Write a payment down, inside the caller's transaction. Raises BooksDayError.

    It holds the books until that transaction ends.
    """
    hold_books()
    refuse_closed(money.received_on, what="money received")
    payment = Payment.objects.create(
        client=client,
        received_on=money.received_on,
        amount_minor=money.amount_minor,
        rounding_minor=money.rounding_minor,
        currency=money.currency,
        method=money.method,
        reference=money.reference,
        voucher_id=money.voucher_id,
        pays_back=pays_back,
        recorded_at=at,
        recorded_by=by,
        form_key=money.form_key,
    )
    record(payment, "recorded", by=by, at=at, data={"amount_minor": money.amount_minor})
    return payment


@transaction.atomic
def receive_deposit(
    *, draft_id: int, money: Received, by: Person, at: datetime
) -> Receipt:
    """Record a deposit that came before its invoice: issue it, then settle it.

    The tax point is the day of receipt. Raises PaymentError, DraftError.
    """
    draft = InvoiceDraft.objects.select_related("job").get(pk=draft_id)
    if draft.purpose != Purpose.DEPOSIT:
        raise PaymentError("Only a deposit is received before its invoice.")
    Job.objects.select_for_update().get(pk=draft.job_id)
    invoice = issue_invoice(
        draft_id=draft_id, by=by, at=at, tax_point_on=money.received_on
    )
    paid = share_of(money, invoice.gross_minor)
    return record_payment(money=money, shares={invoice.pk: paid}, by=by, at=at)


def share_of(money: Received, balance_minor: int) -> int:
    """Return what money settles of a balance: in cash, all of it where coins allow."""
    coin = _coin_for(money)
    return settled_by(money.amount_minor, balance_minor, coin)


@transaction.atomic
def reverse_payment(
    *, payment_id: int, because: str, by: Person, at: datetime
) -> PaymentReversal:
    """Take back a payment that was written down wrongly; both stay on record."""
    payment = Payment.objects.select_for_update().get(pk=payment_id)
    hold_books()
    if PaymentReversal.objects.filter(payment=payment).exists():
        raise PaymentError("This payment was taken back before.")
    if not because.strip():
        raise PaymentError("Say what was wrong with the payment.")
    if Payment.objects.standing().filter(pays_back=payment).exists():
        raise PaymentError("Part of this payment was paid back. Take that back first.")
    _undo_on_voucher(payment)
    reversal = PaymentReversal.objects.create(
        payment=payment, because=because.strip(), reversed_at=at, reversed_by=by
    )
    record(payment, "reversed", by=by, at=at)
    return reversal


@transaction.atomic
def close_if_paid(*, job_id: int, by: Person | None, at: datetime) -> bool:
    """Close a delivered job whose money is all in; say whether it was closed."""
    job = Job.objects.select_for_update().get(pk=job_id)
    if job.stage != JobStage.DELIVERED or not all_money_is_in(job):
        return False
    close_as_paid(job_id=job.pk, by=by, at=at)
    return True


def all_money_is_in(job: Job) -> bool:
    """Say whether the whole job was invoiced, and every invoice is settled."""
    final = job.invoices.standing().filter(purpose__in=FINAL)
    if not final.exists() or open_drafts(job):
        return False
    return not Invoice.objects.unsettled().filter(job=job).exists()


def _coin_for(money: Received) -> int:
    is_cash = money.method == Method.CASH
    return coin_of(money.currency, StudioProfile.load()) if is_cash else 0


def _rounded(money: Received, invoices: list[Any], shares: dict[int, int]) -> Received:
    """Add what coins leave off where cash settles the whole of one invoice."""
    if len(invoices) != 1 or shares[invoices[0].pk] != invoices[0].balance_minor:
        return money
    balance = int(invoices[0].balance_minor)
    coin = _coin_for(money)
    if not coin or money.amount_minor != in_coins(balance, coin):
        return money
    return replace(money, rounding_minor=balance - money.amount_minor)


def _undo_on_voucher(payment: Payment) -> None:
    if payment.voucher_id is None:
        return
    if payment.method == Method.VOUCHER:
        Voucher.objects.give_back(payment.voucher_id, payment.amount_minor)
    elif not Voucher.objects.take(payment.voucher_id, payment.amount_minor):
        raise PaymentError(
            "Part of the voucher that it paid for was redeemed. Take that back first."
        )


def settleable(currency: str, shares: dict[int, int]) -> list[Invoice]:
    """Return the invoices that shares are for, held against rivals.

    Raises PaymentError where a share does not fit its invoice.
    """
    locked = Invoice.objects.filter(pk__in=shares).order_by("pk")
    list(Job.objects.select_for_update().filter(invoices__in=locked).order_by("pk"))
    invoices = list(locked.with_balance().select_related("client", "job"))
    if not invoices or len(invoices) != len(shares):
        raise PaymentError("Choose at least one invoice that the money is for.")
    if len({invoice.client.kept_id for invoice in invoices}) > 1:
        raise PaymentError("One payment settles invoices of one client.")
    for invoice in invoices:
        _check_share(invoice, shares[invoice.pk], currency)
    return invoices


def _check_share(invoice: Invoice, share: int, currency: str) -> None:
    if invoice.is_credit_note:
        raise PaymentError(f"{invoice.number} is a credit note; it is not paid.")
    if invoice.currency != currency:
        raise PaymentError(f"{invoice.number} is in {invoice.currency}.")
    if share <= 0:
        raise PaymentError(f"Say how much of the payment is for {invoice.number}.")
    if share > balance_of(invoice):
        raise PaymentError(f"{invoice.number} has less than that still to be paid.")


def balance_of(invoice: Invoice) -> int:
    """Return what is still to be paid on an invoice, in minor units."""
    counted: Any = Invoice.objects.with_balance().get(pk=invoice.pk)
    return int(counted.balance_minor)


def follow_up(
    receipt: Receipt, invoices: list[Invoice], *, by: Person, at: datetime
) -> Receipt:
    """Confirm sessions whose deposit is settled, and close jobs that are paid."""
    for invoice in invoices:
        if invoice.purpose == Purpose.DEPOSIT and _is_settled(invoice):
            _confirm_sessions(receipt, invoice.job, by=by, at=at)
        if close_if_paid(job_id=invoice.job_id, by=by, at=at):
            receipt.closed.append(invoice.job.number)
    return receipt


def _is_settled(invoice: Invoice) -> bool:
    return not Invoice.objects.unsettled().filter(pk=invoice.pk).exists()


def _confirm_sessions(receipt: Receipt, job: Job, *, by: Person, at: datetime) -> None:
    waiting = [BookingStatus.PROPOSED, BookingStatus.PENCILLED]
    for booking in job.bookings.filter(status__in=waiting):
        try:
            with transaction.atomic():
                confirm_booking(booking_id=booking.pk, by=by, at=at)
        except ClashError as clash:
            receipt.problems.append(str(clash))
        else:
            receipt.confirmed.append(str(booking))
