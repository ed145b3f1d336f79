import json
from decimal import Decimal

import pytest
from lxml import etree

from invoicing.einvoices.parties import EInvoiceError
from invoicing.einvoices.terms import refusal, terms_of
from invoicing.einvoices.writing import write_xml
from tests.invoicing.einvoices.cases import CASES, UNREGISTERED, line, paper


@pytest.mark.parametrize("name", CASES)
def test_sums_hold_to_the_cent(name: str) -> None:
    # EN 16931: BR-CO-10, BR-CO-13 to BR-CO-15, BR-CO-16 and BR-S-08, exactly; the
    # official rules allow a cent and more.
    terms = terms_of(CASES[name])
    sums = {key: Decimal(terms[key]) for key in ("BT-106", "BT-109", "BT-110")}
    rows = {(row["BT-118"], row.get("BT-119")): row for row in terms["BG-23"]}

    assert sums["BT-106"] == sum(Decimal(one["BT-131"]) for one in terms["BG-25"])
    assert sums["BT-109"] == sums["BT-106"] - Decimal(terms.get("BT-107", "0"))
    assert sums["BT-110"] == sum(Decimal(row["BT-117"]) for row in rows.values())
    assert Decimal(terms["BT-112"]) == sums["BT-109"] + sums["BT-110"]
    assert terms["BT-115"] == terms["BT-112"]
    taxable = dict.fromkeys(rows, Decimal(0))
    for one in terms["BG-25"]:
        taxable[one["BT-151"], one.get("BT-152")] += Decimal(one["BT-131"])
    for one in terms["BG-20"]:
        pair = one["vat_category_code"], one.get("vat_rate")
        taxable[pair] -= Decimal(one["amount"])
    assert taxable == {key: Decimal(row["BT-116"]) for key, row in rows.items()}


def test_a_gross_price_does_not_move() -> None:
    # 99.99 at 20 %: tax 16.665, so 16.67, and 83.32 before it; no net price with two
    # decimals gives 99.99 back (worked by hand).
    terms = terms_of(CASES["gross"])

    assert (terms["BT-109"], terms["BT-110"], terms["BT-112"]) == (
        "83.32",
        "16.67",
        "99.99",
    )


def test_a_balance_takes_its_deposit_off_line_by_line() -> None:
    # 100.02 at 20 % holds 16.67, the deposit of 50.02 held 8.34: 8.33 is left.
    terms = terms_of(CASES["balance"])

    off = terms["BG-25"][-1]
    assert (off["BT-129"], off["BT-131"]) == ("-1", "-41.68")
    assert terms["BT-110"] == "8.33"
    assert [one["BT-25"] for one in terms["BG-3"]] == ["2026-0007"]


@pytest.mark.parametrize(
    ("name", "code", "root"),
    [
        ("net", "380", "Invoice"),
        ("deposit", "386", "Invoice"),
        ("credit_note", "381", "CreditNote"),
    ],
)
def test_each_paper_has_its_type(name: str, code: str, root: str) -> None:
    # Source: UNTDID 1001, as EN 16931 restricts it for BT-3.
    terms = terms_of(CASES[name])

    written = etree.fromstring(write_xml(terms, syntax="ubl"))

    assert terms["BT-3"] == code
    assert etree.QName(written).localname == root


def test_a_seller_outside_tax_names_no_tax_ids_and_no_rate() -> None:
    terms = terms_of(CASES["not_registered"])

    assert "vat_identifier" not in terms["BG-4"] | terms["BG-7"]
    assert [row["BT-118"] for row in terms["BG-23"]] == ["O"]
    assert "BT-152" not in terms["BG-25"][0]


@pytest.mark.parametrize(
    ("snapshot", "reason"),
    [
        (paper(line(9995), content={"currency": "KWD"}), "no third decimal"),
        (
            paper(line(9995, 0), seller=UNREGISTERED | {"address": "Here", "iban": ""}),
            "country is not known",
        ),
        (
            paper(line(9995), seller={"tax_number": ""}),
            "no tax number of the studio",
        ),
    ],
)
def test_what_cannot_be_expressed_is_refused_with_the_reason(
    snapshot: dict[str, object], reason: str
) -> None:
    with pytest.raises(EInvoiceError, match=reason):
        terms_of(snapshot)
    assert reason in refusal(snapshot)


def test_a_tax_number_gets_its_country_and_greece_its_own_letters() -> None:
    pounds = terms_of(CASES["pounds"])
    greek = CASES["net"]["buyer"] | {
        "address": "1 Odos\nAthina\nGreece",
        "tax_number": "094 259 216",
    }

    assert pounds["BG-4"]["vat_identifier"] == "GB123456782"
    assert terms_of(CASES["net"] | {"buyer": greek})["BG-7"]["vat_identifier"] == (
        "EL094259216"
    )


@pytest.mark.parametrize(
    ("name", "category", "code", "words"),
    [
        ("reverse_charge", "AE", "VATEX-EU-AE", "Reverse charge"),
        ("export", "G", "VATEX-EU-G", "Supplied in another country."),
        ("outside", "O", "VATEX-EU-O", "Outside the scope of tax."),
        ("small_business", "E", None, "Exempt as a small business."),
        ("zero_rated", "Z", None, None),
    ],
)
def test_each_treatment_has_its_category_and_its_reason(
    name: str, category: str, code: str | None, words: str | None
) -> None:
    # EN 16931: BR-AE-10, BR-G-10, BR-O-10, BR-E-10 ask for a reason, BR-Z-10 for none.
    (row,) = terms_of(CASES[name])["BG-23"]

    assert (row["BT-118"], row["BT-117"]) == (category, "0.00")
    assert row.get("BT-121") == code
    assert (row.get("BT-120") or "").startswith(words or "")
    assert ("BT-120" in row) is (words is not None)


def test_a_country_that_was_chosen_goes_before_what_the_address_says() -> None:
    assert terms_of(CASES["export"])["BG-7"]["country_code"] == "NO"
    assert terms_of(CASES["net"])["BG-7"]["country_code"] == "DE"


def test_what_is_outside_tax_names_no_tax_ids() -> None:
    # BR-O-02 of EN 16931.
    terms = terms_of(CASES["outside"])

    assert "vat_identifier" not in terms["BG-4"] | terms["BG-7"]


def test_writing_changes_neither_terms_nor_snapshot() -> None:
    snapshot = json.dumps(CASES["balance"])
    terms = terms_of(CASES["balance"])
    before = repr(terms)

    write_xml(terms, syntax="cii")

    assert repr(terms) == before
    assert json.dumps(CASES["balance"]) == snapshot


def test_control_characters_do_not_stop_the_data() -> None:
    hostile = paper(line(9995), note="a\x00b\x0bc")

    assert b"ab c" in write_xml(terms_of(hostile), syntax="ubl")


def test_each_kind_of_paper_has_its_code_of_untdid_1001() -> None:
    """380 invoice, 386 prepayment, 326 partial, 381 credit note (UNTDID 1001)."""
    kinds = ("net", "deposit", "stage", "credit_note")

    codes = [terms_of(CASES[name])["BT-3"] for name in kinds]

    assert codes == ["380", "386", "326", "381"]
