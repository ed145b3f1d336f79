"""Papers as their snapshots, without a database: one for each thing that differs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from invoicing.invoices.content import Content, ContentLine, Deduction
from invoicing.invoices.snapshots import totals_json

Snapshot = dict[str, Any]

SELLER = {
    "trading_name": "Harbour Portraits",
    "owner_name": "Ada Lind",
    "address": "3 Quay Lane\nCork\nT12 AB34\nIreland",
    "phone": "+353 21 000 0000",
    "email": "ada@harbour.example",
    "tax_registered": True,
    "tax_name": "VAT",
    "account_name": "Ada Lind",
    "sort_code": "",
    "account_number": "",
    # The example of Ireland's IBAN in the registry of ISO 13616.
    "iban": "IE29 AIBK 9311 5212 3456 78",
    "bic": "AIBKIE2D",
    "tax_number": "IE6388047V",
}
BUYER = {
    "name": "Meyer Bakery",
    "contact_name": "Jo Meyer",
    "address": "1 Mill Street\nKöln\nGermany",
    "email": "jo@meyer.example",
    "tax_number": "DE136695976",
    "kind": "ORGANISATION",
}


def line(
    minor: int, rate: int = 2000, thousandths: int = 1000, treatment: str = ""
) -> ContentLine:
    return ContentLine(
        treatment=treatment,
        description="Portrait & print",
        detail="with <care>",
        unit="hour",
        quantity_thousandths=thousandths,
        unit_price_minor=minor,
        tax_rate_basis_points=rate,
    )


def paper(
    *lines: ContentLine,
    basis: str = "net",
    seller: dict[str, Any] | None = None,
    content: dict[str, Any] | None = None,
    **fields: Any,
) -> Snapshot:
    values: dict[str, Any] = {"currency": "EUR", "price_basis": basis, "lines": lines}
    said = Content(**(values | (content or {})))
    return {
        "series": "INVOICE",
        "purpose": "BALANCE",
        "number": "2026-0001",
        "issued_on": "2026-06-21",
        "due_on": "2026-07-05",
        "tax_point_on": "2026-06-21",
        "seller": SELLER | (seller or {}),
        "buyer": BUYER,
        "job": {"number": "J-2026-001", "title": "Portraits"},
        "content": said.to_json(),
        "totals": totals_json(said.totals()),
        "note": "",
        "corrects": None,
    } | fields


def deduction(number: str, rate: int, taxable: int, tax: int) -> Deduction:
    return Deduction(
        number=number,
        issued_on="2026-06-01",
        category="S",
        tax_rate_basis_points=rate,
        taxable_minor=taxable,
        tax_minor=tax,
    )


def treated(category: str, words: str, *lines: ContentLine, **fields: Any) -> Snapshot:
    said = replace_all(lines or (line(9995),), category)
    return paper(*said, format=2, tax_words={category: words}, **fields)


def replace_all(
    lines: tuple[ContentLine, ...], category: str
) -> tuple[ContentLine, ...]:
    return tuple(replace(one, treatment=category) for one in lines)


UNREGISTERED = {"tax_registered": False, "tax_number": ""}
OFF = (deduction("2026-0007", 2000, 4168, 834),)

CASES: dict[str, Snapshot] = {
    "net": paper(line(9995), line(4995, 1000), line(333, 2000, 3500)),
    # Worked example of money that a consumer was quoted: 16.67 of 99.99 is tax.
    "gross": paper(line(9999), basis="gross"),
    "gross_three": paper(*[line(3333)] * 3, basis="gross"),
    "gross_rates_discount": paper(
        line(9999),
        line(4995, 1000),
        line(1200, 0),
        basis="gross",
        content={"discount_percent_hundredths": 1000},
    ),
    # 10 % off 99.95 at 20 % and 49.95 at 10 %: 134.90 net, 22.49 tax, 157.39.
    "net_discount": paper(
        line(9995), line(4995, 1000), content={"discount_percent_hundredths": 1000}
    ),
    "deposit": paper(line(5002), basis="gross", purpose="DEPOSIT"),
    "stage": paper(line(5002), basis="gross", purpose="STAGE"),
    "balance": paper(line(10002), basis="gross", content={"deductions": OFF}),
    "nothing_left": paper(
        line(5002), basis="gross", content={"deductions": OFF}, number="2026-0009"
    ),
    "credit_note": paper(
        line(9999),
        basis="gross",
        series="CREDIT_NOTE",
        purpose="CREDIT",
        number="CN-2026-001",
        note="The wrong client was named.",
        corrects={"number": "2026-0001", "issued_on": "2026-06-21"},
    ),
    "exempt": paper(line(9995, 0)),
    "exempt_and_taxed": paper(line(9995, 0), line(100)),
    "not_registered": paper(line(9999, 0), basis="gross", seller=UNREGISTERED),
    "yen": paper(line(12345, 1000), content={"currency": "JPY"}),
    "pounds": paper(
        line(9999),
        basis="gross",
        content={"currency": "GBP"},
        seller={
            "address": "3 Quay Lane\nLeith",
            "iban": "",
            "bic": "",
            "sort_code": "20-00-00",
            "account_number": "55779911",
            "tax_number": "123 4567 82",
        },
        buyer=BUYER | {"tax_number": "", "address": "", "contact_name": ""},
    ),
    # The rate that was typed stays with the line, and does not count.
    "reverse_charge": treated("AE", "Reverse charge: you account for the tax."),
    "export": treated(
        "G",
        "Supplied in another country.",
        buyer=BUYER | {"country": "NO", "tax_number": "", "address": "1 Havna\nOslo"},
    ),
    "zero_rated": treated("Z", "Zero-rated."),
    "zero_and_taxed": paper(line(9995, 0, treatment="Z"), line(100), format=2),
    "outside": treated("O", "Outside the scope of tax."),
    "small_business": treated(
        "E",
        "Exempt as a small business.",
        seller=UNREGISTERED | {"registration_number": "12/345/67890"},
        buyer=BUYER | {"tax_number": ""},
    ),
    "part_credit": paper(
        line(5001),
        basis="gross",
        series="CREDIT_NOTE",
        purpose="CREDIT",
        number="CN-2026-002",
        format=2,
        credited={"0": 5001},
        corrects={"number": "2026-0001", "issued_on": "2026-06-21"},
    ),
    "tax_point_before": paper(line(9995), tax_point_on="2026-06-15"),
}
