"""Totals of the official EN 16931 example documents, to the cent.

Source: en16931_examples.json beside this file, which names each document's own file,
repository and licence.
"""

import json
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from invoicing.tax import Adjustment, Document, Line, Totals, totals

EXAMPLES = json.loads(
    Path(__file__).with_name("en16931_examples.json").read_text(encoding="utf-8")
)["cases"]
SUMS = ("line_total", "allowance_total", "charge_total", "net", "tax", "gross", "due")


def sums_of_money(amounts: Sequence[str]) -> list[Adjustment]:
    return [Adjustment(amount=Decimal(amount)) for amount in amounts]


def line(figures: dict[str, Any]) -> Line:
    return Line(
        quantity=Decimal(figures["quantity"]),
        unit_price=Decimal(figures["unit_price"]),
        base_quantity=Decimal(figures["base_quantity"]),
        allowances=sums_of_money(figures["allowances"]),
        charges=sums_of_money(figures["charges"]),
        category=figures["category"],
        rate=Decimal(figures["rate"]),
    )


def adjustment(figures: dict[str, str], *, by_percent: bool) -> Adjustment:
    category, rate = figures["category"], Decimal(figures["rate"])
    if by_percent and "percent" in figures:
        return Adjustment(
            percent=Decimal(figures["percent"]),
            base=Decimal(figures["base"]),
            category=category,
            rate=rate,
        )
    return Adjustment(amount=Decimal(figures["amount"]), category=category, rate=rate)


def document(example: dict[str, Any], *, by_percent: bool = False) -> Document:
    return Document(
        currency=example["currency"],
        price_basis="net",
        lines=[line(figures) for figures in example["lines"]],
        allowances=[
            adjustment(one, by_percent=by_percent) for one in example["allowances"]
        ],
        charges=[adjustment(one, by_percent=by_percent) for one in example["charges"]],
        prepaid=Decimal(example["prepaid"]),
        rounding=Decimal(example["rounding"]),
    )


def rows(found: Totals) -> list[tuple[str, Decimal, Decimal, Decimal]]:
    return sorted(
        (row.category, row.rate, row.taxable, row.tax) for row in found.breakdown
    )


def published_rows(
    example: dict[str, Any],
) -> list[tuple[str, Decimal, Decimal, Decimal]]:
    return sorted(
        (
            row["category"],
            Decimal(row["rate"]),
            Decimal(row["taxable"]),
            Decimal(row["tax"]),
        )
        for row in example["expected"]["breakdown"]
    )


def test_all_the_published_examples_are_there() -> None:
    assert len(EXAMPLES) == 58


@pytest.mark.parametrize("by_percent", [False, True], ids=["amounts", "percentages"])
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example["id"])
def test_totals_are_those_of_the_published_document(
    example: dict[str, Any], by_percent: bool
) -> None:
    found = totals(document(example, by_percent=by_percent))

    expected = example["expected"]
    assert {name: getattr(found, name) for name in SUMS} == {
        name: Decimal(expected[name]) for name in SUMS
    }
    assert list(found.line_nets) == [Decimal(net) for net in expected["line_nets"]]
    assert rows(found) == published_rows(example)
