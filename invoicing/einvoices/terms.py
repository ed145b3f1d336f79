"""An issued paper in the terms of EN 16931, from its frozen snapshot alone.

The keys are the standard's own: BT for a term, BG for a group of terms. Amounts are
text with the digits of the currency. Source: EN 16931-1:2017.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, Final

from invoicing.einvoices.parties import (
    EInvoiceError,
    buyer_party,
    plain,
    seller_party,
)
from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.states import Purpose, Series
from invoicing.tax.model import Pair, plain_rate
from invoicing.tax.spreading import spread
from studio.money import decimal_from_minor, exponent
from studio.wording import plain_number

Terms = dict[str, Any]

OUTSIDE: Final = "O"
EXEMPT: Final = "E"
REASONS: Final = {
    EXEMPT: "Exempt from tax",
    "AE": "Reverse charge",
    "G": "Export outside the EU",
    OUTSIDE: "Not subject to tax: the seller is not registered",
}
# Source: code list VATEX of EN 16931; an exemption is told by its words alone.
REASON_CODES: Final = {
    "AE": "VATEX-EU-AE",
    "G": "VATEX-EU-G",
    OUTSIDE: "VATEX-EU-O",
}
# Common practice, no source: Recommendation 20's code for "one", hours and days.
INVOICE_CODES: Final = {Purpose.DEPOSIT: "386", Purpose.STAGE: "326"}
"""Code list UNTDID 1001: prepayment and partial invoice; 380 is any other."""
UNITS: Final = {"hour": "HUR", "hours": "HUR", "day": "DAY", "days": "DAY"}


def terms_of(snapshot: Mapping[str, Any]) -> Terms:
    """Return a paper in the standard's terms.

    Raises EInvoiceError, with the reason, for what the standard cannot express.
    """
    content = Content.from_json(snapshot["content"])
    if exponent(content.currency) > 2:
        raise EInvoiceError(
            f"The standard has no third decimal, so {content.currency} is left out."
        )
    with_ids = _registered(snapshot) and OUTSIDE not in content.categories
    seller = seller_party(snapshot["seller"], registered=with_ids)
    buyer = buyer_party(
        snapshot["buyer"],
        country=seller["country_code"],
        with_tax_id=with_ids,
    )
    rows = [_tax_row(row, snapshot) for row in snapshot["totals"]["breakdown"]]
    terms = _head(snapshot, content) | {"BG-4": seller, "BG-7": buyer, "BG-23": rows}
    return terms | _sums(snapshot, content) | _payment(snapshot)


def refusal(snapshot: Mapping[str, Any]) -> str:
    """Return why a paper has no data by the standard; empty where it has."""
    try:
        terms_of(snapshot)
    except EInvoiceError as reason:
        return str(reason)
    return ""


def _registered(snapshot: Mapping[str, Any]) -> bool:
    seller = snapshot["seller"]
    return bool(seller["tax_registered"] and seller["tax_number"])


def _head(snapshot: Mapping[str, Any], content: Content) -> Terms:
    tax_point_on = date.fromisoformat(snapshot["tax_point_on"])
    head: Terms = {
        "BT-1": snapshot["number"],
        "BT-2": date.fromisoformat(snapshot["issued_on"]),
        "BT-3": _type_code(snapshot),
        "BT-5": content.currency,
        "BT-72": tax_point_on,  # the day of the supply, or of a payment on account
    }
    if snapshot["tax_point_on"] != snapshot["issued_on"]:
        head["BT-7"] = tax_point_on
    if snapshot["series"] == Series.INVOICE:
        head["BT-9"] = date.fromisoformat(snapshot["due_on"])
    notes = [snapshot["job"]["title"], snapshot["note"]]
    head["BG-1"] = [{"BT-22": plain(note)} for note in notes if plain(note)]
    before = {row.number: row.issued_on for row in content.deductions}
    if corrects := snapshot["corrects"]:
        before = {corrects["number"]: corrects["issued_on"]}
    head["BG-3"] = [
        {"BT-25": number, "BT-26": date.fromisoformat(on)}
        for number, on in before.items()
    ]
    return head


def _type_code(snapshot: Mapping[str, Any]) -> str:
    if snapshot["series"] == Series.CREDIT_NOTE:
        return "381"
    return INVOICE_CODES.get(snapshot["purpose"], "380")


def _sums(snapshot: Mapping[str, Any], content: Content) -> Terms:
    totals = snapshot["totals"]
    parts = spread(content.document(), _taxable(snapshot, content))
    pairs = zip(content.lines, parts.lines, strict=True)
    lines = [
        _line(line, _price(line, content, part.net), part.net, snapshot)
        for line, part in pairs
    ]
    lines += _deposit_lines(content, snapshot)
    for place, line in enumerate(lines, 1):
        line["BT-126"] = str(place)
    allowances = [
        {"amount": str(part.net), "reason": "Discount"}
        | _category(part.category, part.rate, snapshot, prefix="vat_")
        for part in parts.allowances
        if part.net
    ]
    sums: Terms = {
        "BG-25": lines,
        "BG-20": allowances,
        "BT-106": str(sum(Decimal(line["BT-131"]) for line in lines)),
        "BT-109": totals["net"],
        "BT-110": totals["tax"],
        "BT-112": totals["gross"],
        "BT-115": totals["due"],
    }
    if allowances:
        sums["BT-107"] = str(sum(Decimal(one["amount"]) for one in allowances))
    return sums


def _taxable(
    snapshot: Mapping[str, Any], content: Content
) -> dict[Pair, Decimal] | None:
    """Return what the lines of a credit note come to without tax, by its own sums."""
    if not snapshot.get("credited"):
        return None
    digits = exponent(content.currency)
    sums = {
        (row["category"], plain_rate(Decimal(row["rate"]))): Decimal(row["taxable"])
        for row in snapshot["totals"]["breakdown"]
    }
    for one in content.deductions:
        pair = one.category, plain_rate(Decimal(one.tax_rate_basis_points) / 100)
        off = decimal_from_minor(one.taxable_minor, digits)
        sums[pair] = sums.get(pair, Decimal(0)) + off
    return sums


def _price(line: ContentLine, content: Content, net: Decimal) -> Decimal:
    if content.price_basis == "net" or not line.quantity:
        return decimal_from_minor(line.unit_price_minor, exponent(content.currency))
    return abs(net / line.quantity).quantize(Decimal("0.000001"))


def _line(
    line: ContentLine, price: Decimal, net: Decimal, snapshot: Mapping[str, Any]
) -> Terms:
    terms = {
        "BT-153": plain(line.description) or "Item",
        "BT-129": plain_number(line.quantity).replace("−", "-").replace(",", ""),
        "BT-130": UNITS.get(line.unit, "C62"),
        "BT-131": str(net),
        "BT-146": str(price),
    }
    if detail := plain(line.detail):
        terms["BT-154"] = detail
    return terms | _line_category(line.category, line.rate, snapshot)


def _deposit_lines(content: Content, snapshot: Mapping[str, Any]) -> list[Terms]:
    digits = exponent(content.currency)
    return [
        {
            "BT-153": row.words,
            "BT-129": "-1",
            "BT-130": "C62",
            "BT-131": str(-decimal_from_minor(row.taxable_minor, digits)),
            "BT-146": str(decimal_from_minor(row.taxable_minor, digits)),
        }
        | _line_category(
            row.category, Decimal(row.tax_rate_basis_points) / 100, snapshot
        )
        for row in content.deductions
    ]


def _line_category(category: str, rate: Decimal, snapshot: Mapping[str, Any]) -> Terms:
    found = _category(category, rate, snapshot, prefix="")
    names = {"category_code": "BT-151", "rate": "BT-152"}
    return {names[key]: value for key, value in found.items()}


def _category(
    category: str, rate: Decimal, snapshot: Mapping[str, Any], *, prefix: str
) -> Terms:
    code = _code(category, snapshot)
    found = {f"{prefix}category_code": code}
    if code != OUTSIDE:
        found[f"{prefix}rate"] = str(rate)
    return found


def _code(category: str, snapshot: Mapping[str, Any]) -> str:
    """Return the category; outside of tax it is exempt only where an id says so."""
    local = snapshot["seller"].get("registration_number")
    if _registered(snapshot) or (local and category == EXEMPT):
        return category
    return OUTSIDE


def _tax_row(row: Mapping[str, Any], snapshot: Mapping[str, Any]) -> Terms:
    found = _category(row["category"], Decimal(row["rate"]), snapshot, prefix="")
    code = found["category_code"]
    if code == OUTSIDE and Decimal(row["tax"]):
        raise EInvoiceError(
            "There is tax on this paper and no tax number of the studio."
        )
    terms = {"BT-116": row["taxable"], "BT-117": row["tax"], "BT-118": code}
    if "rate" in found:
        terms["BT-119"] = found["rate"]
    if code in REASONS:
        said = snapshot.get("tax_words", {}).get(code, "")
        terms["BT-120"] = plain(said) or REASONS[code]
    if code in REASON_CODES:
        terms["BT-121"] = REASON_CODES[code]
    return terms


def _payment(snapshot: Mapping[str, Any]) -> Terms:
    seller = snapshot["seller"]
    account = _account(seller)
    if snapshot["series"] == Series.CREDIT_NOTE or not account:
        return {}
    euro = snapshot["content"]["currency"] == "EUR" and bool(seller["iban"])
    remittance = snapshot.get("creditor_reference") or snapshot["number"]
    terms = {"BT-81": "58" if euro else "30", "BT-83": remittance}
    terms["BT-84"] = account
    if seller["account_name"]:
        terms["BT-85"] = plain(seller["account_name"])
    if seller["iban"] and seller["bic"]:
        terms["BT-86"] = _compact(seller["bic"])
    return terms


def _account(seller: Mapping[str, Any]) -> str:
    if seller["iban"]:
        return _compact(seller["iban"])
    parts: Sequence[str] = (seller["sort_code"], seller["account_number"])
    return plain(" ".join(part for part in parts if part))


def _compact(written: str) -> str:
    return "".join(written.split()).upper()
