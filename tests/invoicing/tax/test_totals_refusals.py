"""What the arithmetic refuses, always with the figure that was wrong."""

import re
from dataclasses import FrozenInstanceError
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from invoicing.tax import Adjustment, Document, Line, totals

ONE = Decimal(1)


def line(**other: Any) -> Line:
    return Line(**{"quantity": ONE, "unit_price": ONE, "rate": Decimal(20)} | other)


def document(**other: Any) -> Document:
    given = {"currency": "EUR", "price_basis": "net", "lines": [line()]} | other
    return Document(**given)


@pytest.mark.parametrize("name", ["quantity", "unit_price", "base_quantity", "rate"])
@pytest.mark.parametrize(
    "value",
    [
        1.5,
        True,
        None,
        "1",
        Fraction(1, 3),
        Decimal("NaN"),
        Decimal("sNaN"),
        Decimal("Infinity"),
        Decimal("1E+40"),
        Decimal("1E+999999"),
        Decimal("1E-999999"),
        10**40,
    ],
    ids=str,
)
def test_a_line_refuses_what_is_not_an_exact_number(name: str, value: object) -> None:
    with pytest.raises(ValueError, match=re.escape(str(value))) as refusal:
        line(**{name: value})

    assert name in str(refusal.value)


@pytest.mark.parametrize("name", ["amount", "percent"])
@pytest.mark.parametrize("value", [0.1, Decimal("-Infinity"), "10"], ids=str)
def test_an_adjustment_refuses_what_is_not_an_exact_number(
    name: str, value: Any
) -> None:
    with pytest.raises(ValueError, match=re.escape(str(value))):
        Adjustment(**{name: value})


def test_a_base_and_a_rate_are_exact_numbers_too() -> None:
    with pytest.raises(ValueError, match=r"base 0\.5"):
        Adjustment(percent=ONE, base=0.5)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=r"rate 0\.2"):
        Adjustment(percent=ONE, category="S", rate=0.2)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["prepaid", "rounding"])
@pytest.mark.parametrize("value", [0.5, Decimal("NaN"), Decimal("0.001")], ids=str)
def test_money_that_moves_is_exact_to_the_cent(name: str, value: object) -> None:
    with pytest.raises(ValueError, match=re.escape(f"{name} {value}")):
        document(**{name: value})


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"unit_price": Decimal("-0.01")}, "unit_price -0.01"),  # EN 16931, BR-27
        ({"base_quantity": Decimal(0)}, "base_quantity 0"),
        ({"base_quantity": Decimal(-2)}, "base_quantity -2"),
        ({"rate": Decimal("-0.5")}, "rate -0.5"),
        ({"category": ""}, "category ''"),
        ({"category": None}, "category None"),
    ],
)
def test_a_line_refuses_what_makes_no_sense(given: dict[str, Any], told: str) -> None:
    with pytest.raises(ValueError, match=re.escape(told)):
        line(**given)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "amount (None)"),
        ({"amount": ONE, "percent": Decimal(7)}, "percent (7)"),
        ({"amount": ONE, "base": Decimal(9)}, "base 9"),
        ({"amount": ONE, "category": "S", "rate": Decimal(-3)}, "rate -3"),
        ({"amount": ONE, "category": ""}, "category ''"),
    ],
)
def test_an_adjustment_is_either_a_sum_or_a_percentage(
    given: dict[str, Any], told: str
) -> None:
    with pytest.raises(ValueError, match=re.escape(told)):
        Adjustment(**given)


def test_an_adjustment_of_a_line_is_in_the_rate_of_the_line() -> None:
    own = Adjustment(amount=ONE, category="S", rate=Decimal("20.0"))
    other = Adjustment(amount=ONE, category="S", rate=Decimal(10))

    assert totals(document(lines=[line(allowances=[own])])).net == 0
    with pytest.raises(ValueError, match="10"):
        line(allowances=[other])
    with pytest.raises(ValueError, match="10"):
        line(charges=[other])


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"price_basis": "mixed"}, "mixed"),
        ({"currency": "EURO"}, "EURO"),
        ({"currency": "eur"}, "eur"),
        ({"currency": "XAU"}, "XAU"),  # gold has no minor unit
        ({"allowances": [Adjustment(amount=ONE, rate=Decimal(7))]}, "rate 7"),
        ({"charges": [Adjustment(amount=ONE, rate=Decimal(7))]}, "rate 7"),
    ],
)
def test_a_document_refuses_what_makes_no_sense(
    given: dict[str, Any], told: str
) -> None:
    with pytest.raises(ValueError, match=told):
        document(**given)


def test_a_sum_is_not_shared_over_lines_that_come_to_nothing() -> None:
    nothing = [line(), line(quantity=-ONE, category="Z", rate=Decimal(0))]
    off = [Adjustment(amount=Decimal("5.00"))]

    with pytest.raises(ValueError, match="500"):
        totals(document(lines=nothing, allowances=off))


@pytest.mark.parametrize(
    ("holder", "name"),
    [
        (line(), "rate"),
        (document(), "lines"),
        (totals(document()), "gross"),
        (totals(document()).breakdown[0], "tax"),
        (Adjustment(amount=ONE), "amount"),
    ],
    ids=lambda given: given if isinstance(given, str) else type(given).__name__,
)
def test_figures_and_results_cannot_be_changed(holder: object, name: str) -> None:
    with pytest.raises(FrozenInstanceError):
        setattr(holder, name, Decimal(0))
