from datetime import date

import pytest
from django.test import Client as Browser

from jobs.kits.insured import HEAD, InsuredList, InsuredRow, insured_row
from jobs.kits.models import KitCategory, KitItem
from studio.money import Money
from studio.sheets import csv_bytes
from tests.make import make_item, make_person, make_profile
from tests.planning.reading import words


def row(name: str, minor: int | None, currency: str = "GBP") -> InsuredRow:
    kept = KitItem(
        name=name,
        category=KitCategory.LENS,
        serial="-7",
        value_minor=minor,
        currency=currency,
    )
    return insured_row(kept)


def test_currencies_are_totalled_apart_and_what_has_no_value_is_counted() -> None:
    rows = (
        row("A", 120_000),
        row("B", 30_050),
        row("C", 90_000, "JPY"),
        row("D", None),
    )

    found = InsuredList(studio="Ada", on=date(2026, 6, 21), rows=rows)

    # By hand: 1,200.00 + 300.50 pounds; yen have no minor unit (ISO 4217).
    assert found.totals == (
        Money.from_minor(150_050, "GBP"),
        Money.from_minor(90_000, "JPY"),
    )
    assert found.total_words == "£1,500.50, JP¥90,000, 1 without a value"


def test_no_text_of_the_csv_is_a_formula_and_values_stay_numbers() -> None:
    # OWASP, CSV injection: a leading apostrophe makes a cell text.
    table = csv_bytes(HEAD, [row("=1+1", 120_000).cells]).decode("utf-8-sig")

    assert table.splitlines()[1] == "'=1+1,Lens,'-7,,,,1200.00,GBP"


@pytest.mark.django_db
@pytest.mark.usefixtures("noon")
def test_the_paper_names_items_and_totals() -> None:
    make_profile()
    make_item("Grey tripod", value_minor=12_345, currency="EUR", serial="K-9")
    browser = Browser()
    browser.force_login(make_person(hats="planner"))

    paper = words(browser.get("/kit/insurance.pdf").content)

    for said in ("Grey tripod", "K-9", "Total in EUR", "€123.45", "Page 1 of 1"):
        assert said in paper
