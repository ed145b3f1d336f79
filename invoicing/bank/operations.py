"""Reading statements, and saying what a line of the bank is."""

from __future__ import annotations

import hashlib
import secrets
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from invoicing.bank.matching import OpenPaper
from invoicing.bank.models import BankLine, BankStatement, PayoutPayment
from invoicing.bank.queries import card_payments_waiting
from invoicing.bank.reading import StatementLine
from invoicing.bank.recorded import BY_LINE, was_by_hand
from invoicing.drawings.operations import drop_move
from invoicing.payments.models import Method
from invoicing.payments.operations import (
    Receipt,
    Received,
    receive_deposit,
    record_payment,
    reverse_payment,
)
from invoicing.periods.operations import hold_books, refuse_closed
from invoicing.purchases.models import PaidFrom, Purchase, PurchaseKind
from invoicing.purchases.operations import change_purchase, record_purchase
from studio.errors import DomainError
from studio.files.models import StoredFile
from studio.history.operations import record
from studio.people.models import Person


class BankError(DomainError):
    """A line of the bank is not what it is said to be."""


@dataclass(frozen=True, slots=True)
class ReadIn:
    """How many lines of a statement were new, and how many known before."""

    new: int
    known: int


@transaction.atomic
def keep_statement(
    *,
    file: StoredFile,
    name: str,
    lines: Sequence[StatementLine],
    currency: str,
    by: Person,
    at: datetime,
) -> ReadIn:
    """Keep a statement's lines; lines of an overlapping one are not kept twice.

    Equal lines of one day count as often as the bank wrote them.
    """
    statement = BankStatement.objects.create(
        file=file, name=name, read_at=at, read_by=by
    )
    keys = _keys(lines, currency)
    known = set(BankLine.objects.filter(key__in=keys).values_list("key", flat=True))
    BankLine.objects.bulk_create(
        BankLine(
            statement=statement,
            key=key,
            booked_on=line.booked_on,
            amount_minor=line.amount_minor,
            currency=currency,
            party=line.party,
            text=line.text,
        )
        for key, line in zip(keys, lines, strict=True)
        if key not in known
    )
    record(statement, "read", by=by, at=at, data={"lines": len(lines)})
    return ReadIn(new=len(lines) - len(known), known=len(known))


@transaction.atomic
def settle_line(
    *, line_id: int, papers: Sequence[OpenPaper], by: Person, at: datetime
) -> Receipt:
    """Take a line as money for invoices, oldest first, or for one waiting deposit.

    Raises BankError, PaymentError, ClosedPeriodError.
    """
    line = _open(line_id)
    if line.amount_minor < 0:
        raise BankError("Money that went out pays no invoice of yours.")
    if not papers:
        raise BankError("Choose at least one invoice that the money is for.")
    money = Received(
        amount_minor=line.amount_minor,
        currency=line.currency,
        received_on=line.booked_on,
        method=Method.TRANSFER,
        reference=(line.text or line.party)[:140],
        form_key=f"{BY_LINE}{secrets.token_hex(16)}",
    )
    if papers[0].is_draft:
        if len(papers) > 1:
            raise BankError("Settle a deposit on its own.")
        receipt = receive_deposit(draft_id=papers[0].pk, money=money, by=by, at=at)
    else:
        shares = _shares(line.amount_minor, papers)
        receipt = record_payment(money=money, shares=shares, by=by, at=at)
    line.payment = receipt.payment
    line.save(update_fields=["payment"])
    record(line, "settled", by=by, at=at)
    return receipt


@transaction.atomic
def spend_line(
    *, line_id: int, details: Mapping[str, Any], by: Person, at: datetime
) -> Purchase:
    """Take a line as a purchase that is new, paid from the bank on the line's day.

    Raises BankError, ClosedPeriodError.
    """
    line = _open(line_id)
    if line.amount_minor > 0:
        raise BankError("Money that came in is no purchase.")
    if details["gross_minor"] != -line.amount_minor:
        raise BankError("The sum is not what left the account.")
    paid = {"paid_on": line.booked_on, "paid_from": PaidFrom.BANK}
    purchase = record_purchase(details={**details, **paid}, by=by, at=at)
    _bought(line, purchase, by, at)
    return purchase


@transaction.atomic
def link_purchase(
    *, line_id: int, purchase_id: int, by: Person, at: datetime
) -> Purchase:
    """Take a line as the payment of a purchase that is written down already.

    Raises BankError, ClosedPeriodError.
    """
    line = _open(line_id)
    purchase = Purchase.objects.standing().get(pk=purchase_id)
    if purchase.gross_minor != -line.amount_minor:
        raise BankError("The sum is not what left the account.")
    if purchase.paid_on is None:
        paid = {"paid_on": line.booked_on, "paid_from": PaidFrom.BANK}
        purchase = change_purchase(purchase_id=purchase.pk, details=paid, by=by, at=at)
    _bought(line, purchase, by, at)
    return purchase


@transaction.atomic
def pay_out(
    *, line_id: int, payment_ids: Sequence[int], by: Person, at: datetime
) -> Purchase | None:
    """Take a line as a card service's payout of payments, less its fee.

    The fee becomes a purchase. Raises BankError, ClosedPeriodError.
    """
    line = _open(line_id)
    hold_books()
    refuse_closed(line.booked_on, what="a payout")
    chosen = [one for one in card_payments_waiting() if one.pk in payment_ids]
    if not chosen or len(chosen) != len(set(payment_ids)):
        raise BankError("Choose the card payments that this payout brings.")
    fee = sum(one.amount_minor for one in chosen) - line.amount_minor
    if fee < 0:
        raise BankError("The payout is more than these payments brought.")
    PayoutPayment.objects.bulk_create(
        PayoutPayment(line=line, payment=payment) for payment in chosen
    )
    record(line, "paid out", by=by, at=at, data={"fee_minor": fee})
    if not fee:
        return None
    details = {
        "kind": PurchaseKind.BANK_FEES,
        "supplier": line.party or "Card service",
        "what": "Fee of a payout",
        "bought_on": line.booked_on,
        "paid_on": line.booked_on,
        "paid_from": PaidFrom.CARD,
        "currency": line.currency,
        "gross_minor": fee,
    }
    purchase = record_purchase(details=details, by=by, at=at)
    _bought(line, purchase, by, at)
    return purchase


@transaction.atomic
def leave_line(*, line_id: int, because: str, by: Person, at: datetime) -> BankLine:
    """Say why a line is not the studio's business. Raises BankError."""
    line = _open(line_id)
    if not because.strip():
        raise BankError("Say why it is left out, such as a transfer of your own.")
    line.left_because = because.strip()
    line.save(update_fields=["left_because"])
    record(line, "left out", by=by, at=at)
    return line


@transaction.atomic
def ask_about(*, line_id: int, question: str, by: Person, at: datetime) -> BankLine:
    """Pin a question to a line; it stands on the owner's Today. Raises BankError."""
    line = BankLine.objects.select_for_update().get(pk=line_id)
    if not question.strip():
        raise BankError("Write the question.")
    line.question, line.answer, line.asked_by = question.strip(), "", by
    line.save(update_fields=["question", "answer", "asked_by"])
    record(line, "asked about", by=by, at=at)
    return line


@transaction.atomic
def answer_about(*, line_id: int, answer: str, by: Person, at: datetime) -> BankLine:
    """Answer the question that is pinned to a line. Raises BankError."""
    line = BankLine.objects.select_for_update().get(pk=line_id)
    if not line.question or not answer.strip():
        raise BankError("Write the answer.")
    line.answer = answer.strip()
    line.save(update_fields=["answer"])
    record(line, "answered about", by=by, at=at)
    return line


@transaction.atomic
def open_again(*, line_id: int, by: Person, at: datetime) -> BankLine:
    """Take back what a line was found to be; a payment that it made is reversed.

    A payout with a fee is taken apart by taking its fee back first. Raises BankError,
    PaymentError, ClosedPeriodError.
    """
    line = BankLine.objects.select_for_update().get(pk=line_id)
    if line.payout_payments.exists():
        raise BankError("A payout stays: its payments are on the account.")
    if line.payment and not was_by_hand(line.payment):
        why = "The line of the bank was for something else"
        reverse_payment(payment_id=line.payment.pk, because=why, by=by, at=at)
    if hasattr(line, "owner_move"):
        why = "The line of the bank was something else"
        drop_move(move_id=line.owner_move.pk, because=why, by=by, at=at)
    line.payment, line.purchase, line.left_because = None, None, ""
    line.save(update_fields=["payment", "purchase", "left_because"])
    record(line, "opened again", by=by, at=at)
    return line


def _open(line_id: int) -> BankLine:
    line = BankLine.objects.select_for_update().get(pk=line_id)
    if not line.is_open:
        raise BankError("Somebody has said already what this line is.")
    return line


def _bought(line: BankLine, purchase: Purchase, by: Person, at: datetime) -> None:
    line.purchase = purchase
    line.save(update_fields=["purchase"])
    record(line, "bought", by=by, at=at)


def _shares(amount_minor: int, papers: Sequence[OpenPaper]) -> dict[int, int]:
    left, shares = amount_minor, {}
    for paper in papers:
        if share := min(left, paper.balance_minor):
            shares[paper.pk] = share
            left -= share
    return shares


def _keys(lines: Sequence[StatementLine], currency: str) -> list[str]:
    seen: Counter[str] = Counter()
    keys = []
    for line in lines:
        facts = (
            [line.bank_id]
            if line.bank_id
            else [
                line.booked_on.isoformat(),
                str(line.amount_minor),
                currency,
                line.party,
                line.text,
            ]
        )
        fact = "\n".join(facts)
        seen[fact] += 1
        keys.append(hashlib.sha256(f"{fact}\n{seen[fact]}".encode()).hexdigest())
    return keys
