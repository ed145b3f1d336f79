"""The journal: every paper, payment and purchase as an entry that sums to zero.

Double entry. An invoice is dated by its tax point. A deposit's net is owed as work to
come until the invoice that takes it off turns it into sales.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import Final

from invoicing.books.accounts import METHODS, Account
from invoicing.books.bases import ACCRUAL, Bases
from invoicing.books.by_receipt import claimed_on, held_papers
from invoicing.books.facts import (
    Facts,
    OwnerFact,
    PaperFact,
    PaymentFact,
    PayoutFact,
    PurchaseFact,
    RateSum,
)
from invoicing.books.held_tax import came_due, tax_on_sales
from invoicing.books.postings import Entry, Posting, signed

BY_TAX_POINT: Final = Bases.always(ACCRUAL)
PURCHASES: Final = {"B": "purchase", "BP": "purchase paid", "BT": "tax due"}


def entries(facts: Facts, bases: Bases = BY_TAX_POINT) -> list[Entry]:
    """Return every entry, by date and kind of document.

    Tax that is due by receipt is held apart until it is; see `held_tax`.
    """
    bases = bases if bases.holds_tax else BY_TAX_POINT
    by_number = {paper.number: paper for paper in facts.papers}
    held = held_papers(facts.papers, bases)
    made = [
        _of_paper(paper, by_number, tax_on_sales(is_held=paper.number in held))
        for paper in facts.papers
    ]
    made += came_due(facts, bases)
    for payment in facts.payments:
        made += _of_payment(payment)
    for purchase in facts.purchases:
        made += _of_purchase(purchase, claimed_on(purchase, bases))
    made += [_of_payout(payout) for payout in facts.payouts]
    made += [_of_owner(move) for move in facts.own]
    made = [entry for entry in made if entry.postings]
    return sorted(made, key=lambda entry: (entry.on, entry.key))


def within(made: Iterable[Entry], first: date, last: date) -> list[Entry]:
    """Return the entries dated from `first` to `last`, both included."""
    return [entry for entry in made if first <= entry.on <= last]


def balances(made: Iterable[Entry]) -> dict[Account, int]:
    """Return what each account holds: debits above zero, credits below."""
    held: dict[Account, int] = defaultdict(int)
    for entry in made:
        for posting in entry.postings:
            held[posting.account] += posting.minor
    return dict(held)


def _of_paper(paper: PaperFact, by_number: dict[str, PaperFact], tax: Account) -> Entry:
    corrected = by_number.get(paper.corrects)
    is_ahead = corrected.is_ahead if corrected else paper.is_ahead
    postings = [Posting(account=Account.RECEIVABLE, minor=paper.gross_minor)]
    account = Account.DEPOSITS if is_ahead else Account.SALES
    postings += _sold(paper.rows, paper.deducted, account, tax)
    kind = "credit note" if paper.corrects else "invoice"
    return Entry(
        key=f"{'C' if paper.corrects else 'I'}{paper.pk}",
        on=paper.tax_point_on,
        document_type=kind,
        document_number=paper.number,
        party=paper.party,
        postings=signed(postings, paper.sign),
        memo=f"takes back {paper.corrects}" if paper.corrects else "",
    )


def _sold(
    rows: Iterable[RateSum],
    deducted: Iterable[RateSum],
    account: Account,
    tax: Account,
) -> Iterator[Posting]:
    off: dict[str, int] = defaultdict(int)
    for row in deducted:
        off[row.code] += row.taxable_minor
    for row in rows:
        full = row.taxable_minor + off.pop(row.code, 0)
        yield Posting(account=account, minor=-full, tax_code=row.code)
        yield Posting(account=tax, minor=-row.tax_minor, tax_code=row.code)
    for code, taxable in off.items():
        yield Posting(account=account, minor=-taxable, tax_code=code)
    for row in deducted:
        yield Posting(
            account=Account.DEPOSITS, minor=row.taxable_minor, tax_code=row.code
        )


def _of_payment(payment: PaymentFact) -> Iterator[Entry]:
    yield _payment_entry(
        payment,
        f"P{payment.pk}",
        payment.on,
        _came_in(payment),
        ", ".join(number for number, _ in payment.shares) or payment.voucher,
    )
    for move in payment.moves:
        said = "set on" if move.minor > 0 else "taken off"
        yield _payment_entry(
            payment,
            f"A{move.pk}",
            move.on,
            _moved(move.minor),
            f"{said} {move.number}",
        )
    if payment.reversed_on:
        back = [*_came_in(payment), *_moved(sum(one.minor for one in payment.moves))]
        yield _payment_entry(
            payment,
            f"R{payment.pk}",
            payment.reversed_on,
            [replace(one, minor=-one.minor) for one in back],
            f"takes back {payment.number}",
        )


def _came_in(payment: PaymentFact) -> list[Posting]:
    loose = Account.VOUCHERS if payment.sells_voucher else Account.ON_ACCOUNT
    settled = payment.worth_minor - payment.unallocated_minor
    return [
        Posting(account=METHODS[payment.method], minor=payment.amount_minor),
        Posting(account=Account.ROUNDING, minor=payment.rounding_minor),
        Posting(account=Account.RECEIVABLE, minor=-settled),
        Posting(account=loose, minor=-payment.unallocated_minor),
        *_of_taxed_voucher(payment),
    ]


def _of_taxed_voucher(payment: PaymentFact) -> Iterator[Posting]:
    """Yield the tax of a voucher taxed at its sale; redeemed, it comes out again."""
    if held := payment.voucher_tax:
        tax = held.tax_minor if payment.sells_voucher else -held.tax_minor
        yield Posting(account=Account.VOUCHERS, minor=tax)
        yield Posting(account=Account.OUTPUT_TAX, minor=-tax, tax_code=held.code)


def _moved(minor: int) -> list[Posting]:
    return [
        Posting(account=Account.ON_ACCOUNT, minor=minor),
        Posting(account=Account.RECEIVABLE, minor=-minor),
    ]


def _payment_entry(
    payment: PaymentFact, key: str, on: date, postings: Iterable[Posting], memo: str
) -> Entry:
    came = "write-off" if payment.is_loss else "payment"
    kinds = {"P": came, "A": "allocation", "R": "reversal"}
    return Entry(
        key=key,
        on=on,
        document_type=kinds[key[0]],
        document_number=payment.number,
        party=payment.party,
        postings=signed(postings, 1),
        memo=memo,
    )


def _of_payout(payout: PayoutFact) -> Entry:
    postings = [
        Posting(account=Account.BANK, minor=payout.amount_minor),
        Posting(account=Account.CARD, minor=-payout.amount_minor),
    ]
    return Entry(
        key=f"T{payout.pk}",
        on=payout.on,
        document_type="payout",
        document_number=payout.number,
        party=payout.party,
        postings=signed(postings, 1),
    )


def _of_owner(move: OwnerFact) -> Entry:
    postings = [
        Posting(account=Account(move.moved_by), minor=move.amount_minor),
        Posting(account=Account.OWNER, minor=-move.amount_minor),
    ]
    return Entry(
        key=f"O{move.pk}",
        on=move.on,
        document_type="put in" if move.amount_minor > 0 else "taken out",
        document_number=move.number,
        party="",
        postings=signed(postings, 1),
        memo=move.note,
    )


def _of_purchase(purchase: PurchaseFact, due_on: date | None) -> Iterator[Entry]:
    private = purchase.private_minor + purchase.private_tax_minor
    at_once = purchase.paid_on == purchase.bought_on
    code = f"S{purchase.rate_basis_points / 100:g}" if purchase.claimed_minor else ""
    tax = Account.INPUT_TAX if due_on == purchase.bought_on else Account.INPUT_HELD
    source = _source(purchase)
    bought = [
        Posting(
            account=Account(purchase.kind), minor=purchase.cost_minor, tax_code=code
        ),
        Posting(account=tax, minor=purchase.claimed_minor, tax_code=code),
        Posting(account=Account.OWNER, minor=private),
        Posting(
            account=source if at_once else Account.PAYABLE, minor=-purchase.gross_minor
        ),
    ]
    yield _purchase_entry(purchase, "B", purchase.bought_on, bought)
    if purchase.paid_on and not at_once:
        paid = [
            Posting(account=Account.PAYABLE, minor=purchase.gross_minor),
            Posting(account=source, minor=-purchase.gross_minor),
        ]
        yield _purchase_entry(purchase, "BP", purchase.paid_on, paid)
    if due_on and due_on != purchase.bought_on:
        claimed = [
            Posting(
                account=Account.INPUT_TAX, minor=purchase.claimed_minor, tax_code=code
            ),
            Posting(account=tax, minor=-purchase.claimed_minor, tax_code=code),
        ]
        yield _purchase_entry(purchase, "BT", due_on, claimed)


def _purchase_entry(
    purchase: PurchaseFact, letter: str, on: date, postings: Iterable[Posting]
) -> Entry:
    return Entry(
        key=f"{letter}{purchase.pk}",
        on=on,
        document_type=PURCHASES[letter],
        document_number=purchase.number,
        party=purchase.supplier,
        postings=signed(postings, 1),
    )


def _source(purchase: PurchaseFact) -> Account:
    return Account.OWNER if purchase.paid_from == "OWN" else Account(purchase.paid_from)
