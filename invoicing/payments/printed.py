"""A receipt as it is printed: every figure and date worked out as text."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from invoicing.invoices.snapshots import buyer_of, seller_foot, seller_lines, seller_of
from invoicing.payments.queries import SeenPayment
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words, plain_number


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPaymentReceipt:
    """All that a receipt says."""

    kind: str
    number: str
    seller_name: str
    seller_lines: tuple[str, ...]
    payer_lines: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, str, str], ...]
    total: tuple[str, str]
    notes: tuple[str, ...]
    foot: str


def printed_receipt(seen: SeenPayment, *, on: date) -> PrintedPaymentReceipt:
    """Return what the receipt of a payment says, as things stand on a day."""
    payment = seen.payment
    seller = seller_of(StudioProfile.load())
    buyer = buyer_of(payment.client)
    goes_out = payment.amount_minor < 0
    lines = [buyer["name"], *buyer["address"].splitlines()]
    said = "Paid back" if goes_out else "Received"
    facts = [(f"{said} on", long_date(payment.received_on))]
    facts.append(("How", payment.get_method_display()))
    if payment.reference:
        facts.append(("Reference", payment.reference))
    return PrintedPaymentReceipt(
        kind="Paid back" if goes_out else "Receipt",
        number=payment.number,
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        payer_lines=tuple(line.strip() for line in lines if line.strip()),
        facts=tuple(facts),
        rows=tuple(_rows(seen)),
        total=(said, money_words(abs(payment.amount))),
        notes=_notes(seen, on),
        foot=seller_foot(seller),
    )


def _rows(seen: SeenPayment) -> list[tuple[str, str, str]]:
    rows = [
        (
            f"Invoice {share.invoice.number} of {long_date(share.invoice.issued_on)}, "
            f"over {money_words(share.invoice.gross)}",
            money_words(abs(share.sum)),
            money_words(share.left) if share.left.minor else "Nothing",
        )
        for share in seen.shares
    ]
    payment = seen.payment
    if payment.rounding_minor:
        rows.append(("Cash rounding", money_words(seen.rounding_off), ""))
    if payment.sells_voucher:
        rows.append((f"{payment.voucher}", money_words(payment.amount), ""))
    if payment.pays_back_id:
        rows.append(
            ("Money on account, not invoiced", money_words(abs(payment.amount)), "")
        )
    if seen.back:
        zero = Money.zero(payment.currency)
        gone = sum((abs(one.amount) for one in seen.back), zero)
        rows.append(("Paid back since", money_words(gone), ""))
    if seen.loose.minor > 0:
        rows.append(("On account, for no invoice yet", money_words(seen.loose), ""))
    return rows


def _notes(seen: SeenPayment, on: date) -> tuple[str, ...]:
    notes = (
        [f"What is left to pay stands as on {long_date(on)}."] if seen.shares else []
    )
    voucher = seen.payment.voucher if seen.payment.sells_voucher else None
    if voucher and voucher.tax_minor:
        notes.append(
            f"This is no tax invoice. {money_words(voucher.tax)} of the price is tax, "
            f"at {plain_number(voucher.tax_rate)}%."
        )
    elif voucher:
        notes.append(
            "This is no tax invoice. The invoice that the voucher pays will show any "
            "tax."
        )
    else:
        notes.append("This shows that money moved. It is no tax invoice.")
    if seen.is_reversed:
        notes.append(f"Taken back: {seen.payment.reversal.because}")
    return tuple(notes)
