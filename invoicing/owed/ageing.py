"""What clients owe on a day, by days past due; only what had happened by then counts.

Plain arithmetic over the facts of the books, in integer minor units.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date

from invoicing.books.facts import Facts, PaymentFact
from invoicing.invoices.late import BUCKETS, bucket_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What is left of an invoice, above zero to be paid; or without a `due_on`, of a
    payment, above zero in the client's favour.
    """

    pk: int
    client_id: int
    party: str
    minor: int
    number: str = ""
    due_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenInvoice:
    """One invoice with something open on the day."""

    pk: int
    number: str
    due_on: date
    days_late: int
    open_minor: int

    @property
    def bucket(self) -> int:
        """The place of its bucket."""
        return bucket_of(self.days_late)


@dataclass(slots=True, kw_only=True)
class ClientAge:
    """What one client owes by bucket, and what stands in their favour apart from it."""

    client_id: int
    name: str
    invoices: list[OpenInvoice] = field(default_factory=list)
    apart_minor: int = 0

    @property
    def buckets(self) -> tuple[int, ...]:
        """The sum of each bucket."""
        sums = [0] * len(BUCKETS)
        for invoice in self.invoices:
            sums[invoice.bucket] += invoice.open_minor
        return tuple(sums)

    @property
    def owed_minor(self) -> int:
        """What is open on invoices."""
        return sum(self.buckets)

    @property
    def balance_minor(self) -> int:
        """What is owed less what stands in the client's favour."""
        return self.owed_minor - self.apart_minor


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountLine:
    """One line of a client's account: above zero it raises what is owed."""

    on: date
    what: str
    minor: int
    balance_minor: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """A client's account: opening balance, lines, closing balance."""

    opening_minor: int
    lines: tuple[AccountLine, ...]

    @property
    def closing_minor(self) -> int:
        """The balance after the last line."""
        return self.lines[-1].balance_minor if self.lines else self.opening_minor


def ages(facts: Facts, on: date) -> list[ClientAge]:
    """Return every client with a balance on a day, the one who owes most first."""
    return by_client(lefts(facts, on), on)


def by_client(found: Iterable[Left], on: date) -> list[ClientAge]:
    """Put together what is left by client, the one who owes most first.

    A client goes by the name on the first paper that is open.
    """
    clients: dict[int, ClientAge] = {}
    for left in sorted(found, key=lambda left: (left.due_on is None, left.pk)):
        one = clients.setdefault(
            left.client_id, ClientAge(client_id=left.client_id, name=left.party)
        )
        if left.due_on is None:
            one.apart_minor += left.minor
        elif left.minor < 0:
            one.apart_minor -= left.minor
        else:
            one.invoices.append(_open_invoice(left, left.due_on, on))
    standing = [one for one in clients.values() if one.invoices or one.apart_minor]
    return sorted(standing, key=lambda one: (-one.owed_minor, one.name))


def lefts(facts: Facts, on: date) -> Iterator[Left]:
    """Yield what is left of each invoice and each payment at the end of a day.

    Money that came before its invoice's tax point stands in the client's favour until
    then.
    """
    less = _taken_off(facts, on)
    for paper in facts.papers:
        is_there = paper.tax_point_on <= on
        left = (paper.gross_minor if is_there else 0) - less[paper.number]
        if left and not paper.corrects:
            yield Left(
                pk=paper.pk,
                client_id=paper.client_id,
                party=paper.party,
                minor=left,
                number=paper.number,
                due_on=paper.due_on or paper.tax_point_on,
            )
    for payment in facts.payments:
        if loose := payment.loose_minor(on):
            yield Left(
                pk=payment.pk,
                client_id=payment.client_id,
                party=payment.party,
                minor=loose,
            )


def account(facts: Facts, client_id: int, *, first: date, last: date) -> Account:
    """Return a client's account from `first` to `last`, both included."""
    moves = sorted(_moves(facts, client_id), key=lambda move: (move[0], move[1]))
    balance = sum(minor for on, _, minor in moves if on < first)
    opening, lines = balance, []
    for on, what, minor in moves:
        if first <= on <= last:
            balance += minor
            lines.append(
                AccountLine(on=on, what=what, minor=minor, balance_minor=balance)
            )
    return Account(opening_minor=opening, lines=tuple(lines))


def _taken_off(facts: Facts, on: date) -> dict[str, int]:
    less: dict[str, int] = defaultdict(int)
    for paper in facts.papers:
        if paper.corrects and paper.tax_point_on <= on:
            less[paper.corrects] += paper.gross_minor
    for payment in facts.payments:
        for day, number, minor in payment.settled():
            if day <= on:
                less[number] += minor
    return less


def _open_invoice(left: Left, due_on: date, on: date) -> OpenInvoice:
    return OpenInvoice(
        pk=left.pk,
        number=left.number,
        due_on=due_on,
        days_late=max((on - due_on).days, 0),
        open_minor=left.minor,
    )


def _moves(facts: Facts, client_id: int) -> Iterator[tuple[date, str, int]]:
    for paper in facts.papers:
        if paper.client_id == client_id:
            kind = "Credit note" if paper.corrects else "Invoice"
            yield (
                paper.tax_point_on,
                f"{kind} {paper.number}",
                paper.sign * paper.gross_minor,
            )
    for payment in facts.payments:
        if payment.client_id == client_id and not payment.sells_voucher:
            said = _said_of(payment)
            yield payment.on, said, -payment.worth_minor
            if payment.reversed_on:
                said = f"{'Write-off' if payment.is_loss else 'Payment'} taken back"
                yield payment.reversed_on, said, payment.worth_minor


def _said_of(payment: PaymentFact) -> str:
    if payment.is_redemption:
        return f"{payment.voucher} redeemed"
    if payment.is_loss:
        return "Written off"
    return "Payment" if payment.amount_minor > 0 else "Paid back"
