"""The lists that leave the books as CSV."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from invoicing.books.facts import Facts
from invoicing.books.postings import Entry
from invoicing.books.tax_summary import TaxSummary
from studio.money import decimal_from_minor, exponent
from studio.sheets import Cell, csv_bytes

JOURNAL_HEAD = (
    "entry_id",
    "date",
    "document_type",
    "document_number",
    "party",
    "account",
    "account_name",
    "debit",
    "credit",
    "currency",
    "tax_code",
    "memo",
)


def journal_csv(
    made: Iterable[Entry], *, currency: str, codes: Mapping[str, str]
) -> bytes:
    """Return one row for each posting; every entry's debits equal its credits."""
    digits = exponent(currency)
    rows: list[list[Cell]] = []
    for entry in made:
        for posting in entry.postings:
            size = decimal_from_minor(abs(posting.minor), digits)
            none = Decimal(0).scaleb(-digits)
            rows.append(
                [
                    entry.key,
                    entry.on,
                    entry.document_type,
                    entry.document_number,
                    entry.party,
                    codes[posting.account],
                    posting.account.label,
                    size if posting.minor > 0 else none,
                    size if posting.minor < 0 else none,
                    currency,
                    posting.tax_code,
                    entry.memo,
                ]
            )
    return csv_bytes(JOURNAL_HEAD, rows)


def tax_csv(summary: TaxSummary, *, currency: str) -> bytes:
    """Return every line of a tax summary."""
    digits = exponent(currency)
    return csv_bytes(
        ("side", "date", "document", "party", "tax_code", "taxable", "tax", "currency"),
        (
            [
                "sale" if line.is_sale else "purchase",
                line.on,
                line.document,
                line.party,
                line.sums.code,
                decimal_from_minor(line.sums.taxable_minor, digits),
                decimal_from_minor(line.sums.tax_minor, digits),
                currency,
            ]
            for line in summary.lines
        ),
    )


def payments_csv(facts: Facts) -> bytes:
    """Return every payment and what it settles."""
    digits = exponent(facts.currency)
    return csv_bytes(
        ("payment", "date", "party", "method", "amount", "settles", "taken_back"),
        (
            [
                payment.number,
                payment.on,
                payment.party,
                payment.method,
                decimal_from_minor(payment.amount_minor, digits),
                ", ".join(payment.settles),
                payment.reversed_on,
            ]
            for payment in facts.payments
        ),
    )


def purchases_csv(
    facts: Facts, *, has_receipt: Mapping[int, bool], shows_tax: bool
) -> bytes:
    """Return every purchase with its cost, its tax and the owner's share."""
    head = ["purchase", "date", "paid", "paid_from", "supplier", "kind", "cost"]
    head += ["tax_claimed"] if shows_tax else []
    digits = exponent(facts.currency)
    rows: list[list[Cell]] = []
    for one in facts.purchases:
        cells: list[Cell] = [
            one.number,
            one.bought_on,
            one.paid_on,
            one.paid_from,
            one.supplier,
            one.kind,
            decimal_from_minor(one.cost_minor, digits),
        ]
        if shows_tax:
            cells.append(decimal_from_minor(one.claimed_minor, digits))
        private = one.private_minor + one.private_tax_minor
        cells.append(decimal_from_minor(private, digits))
        cells.append("yes" if has_receipt.get(one.pk) else "no")
        rows.append(cells)
    return csv_bytes([*head, "private", "receipt"], rows)
