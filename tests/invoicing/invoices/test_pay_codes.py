"""The reference with check digits, and the code to scan.

The codes are read back from their modules.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from stdnum import iso11649

from invoicing.invoices.pay_codes import (
    creditor_reference,
    in_fours,
    modules_of,
    transfer_code,
)
from studio.money import Money
from studio.scene.drawing import Rect
from studio.scene.marks import module_code
from tests.invoicing.invoices.code_reader import level_and_mask, read, version_of

# The examples of EPC069-12 v2.1, of 96 bytes and (in ISO 8859-1) of 103.
BY_REFERENCE = (
    "BCD\n001\n1\nSCT\nBHBLDEHHXXX\nFranz Mustermänn\nDE71110220330123456789\nEUR12.3\n"
    "GDDS\nRF18539007547034"
)
BY_TEXT = (
    "BCD\n002\n2\nSCT\n\nFrançois D'Alsace S.A.\nFR1420041010050500013M02606\nEUR12.3\n"
    "\n\nClient:Marie Louise La Lune"
)
FRANZ = {
    "account_name": "Franz Mustermänn",
    "owner_name": "",
    "iban": "DE71 1102 2033 0123 4567 89",
    "bic": "BHBLDEHHXXX",
}
FRANCOIS = {
    "account_name": "François D'Alsace S.A.",
    "owner_name": "",
    "iban": "FR14 2004 1010 0505 0001 3M02 606",
    "bic": "",
}
EUROS = Money(Decimal("12.30"), "EUR")


@pytest.mark.parametrize(
    ("number", "reference"),
    [
        # The example of ISO 11649 and of EPC069-12; the other by the rule of the
        # standard: 98 less the remainder of 97.
        ("539007547034", "RF18539007547034"),
        ("20260042", "RF8820260042"),
        ("2026-0042", "RF8820260042"),
    ],
)
def test_a_reference_has_its_check_digits(number: str, reference: str) -> None:
    assert creditor_reference(number) == reference
    assert iso11649.is_valid(reference)


@pytest.mark.parametrize("number", ["", "–", "X" * 22])
def test_a_number_that_cannot_be_a_reference_has_none(number: str) -> None:
    assert creditor_reference(number) == ""


def test_a_reference_is_printed_in_fours() -> None:
    assert in_fours("RF18539007547034") == "RF18 5390 0754 7034"


def test_the_code_says_what_the_published_examples_say() -> None:
    # Ours are of version 002 in UTF-8, without a purpose.
    by_reference = transfer_code(
        FRANZ, due=EUROS, reference="RF18539007547034", text="2026-0001"
    )
    by_text = transfer_code(
        FRANCOIS, due=EUROS, reference="", text="Client:Marie Louise La Lune"
    )

    assert len(BY_REFERENCE.encode()) == 96
    assert len(BY_TEXT.encode("iso-8859-1")) == 103
    assert by_reference == BY_REFERENCE.replace("001", "002", 1).replace("GDDS", "")
    assert by_text == BY_TEXT.replace("\n2\n", "\n1\n", 1)


@pytest.mark.parametrize("words", [BY_REFERENCE, BY_TEXT, "BCD\n" * 82 + "end"])
def test_the_code_is_read_back_byte_for_byte(words: str) -> None:
    # EPC069-12: level M, version 13 at most, 331 bytes at most.
    modules = modules_of(words)

    assert read(modules) == words.encode()
    assert version_of(modules) <= 13
    assert level_and_mask(modules)[0] == 0b00  # M


def test_the_drawing_has_the_modules_and_four_of_white_around() -> None:
    # EPC069-12: a quiet zone of four modules.
    modules = modules_of(BY_REFERENCE)
    drawing = module_code(modules)
    dark = {
        (int(op.x) + step, int(op.y))
        for op in drawing.ops
        if isinstance(op, Rect)
        for step in range(int(op.width))
    }

    assert drawing.width == drawing.height == len(modules) + 8
    assert dark == {
        (x + 4, y + 4)
        for y, row in enumerate(modules)
        for x, is_dark in enumerate(row)
        if is_dark
    }


@pytest.mark.parametrize(
    ("seller", "due"),
    [
        (FRANZ, Money(Decimal("12.30"), "GBP")),
        (FRANZ, Money(Decimal("0.00"), "EUR")),
        (FRANZ, Money(Decimal("-1.00"), "EUR")),
        (FRANZ, Money(Decimal("1000000000.00"), "EUR")),
        (FRANZ | {"iban": ""}, EUROS),
        (FRANZ | {"account_name": ""}, EUROS),
    ],
)
def test_there_is_no_code_for_what_cannot_be_paid_so(
    seller: dict[str, str], due: Money
) -> None:
    assert transfer_code(seller, due=due, reference="", text="2026-0001") == ""


def test_a_name_cannot_smuggle_in_another_account() -> None:
    name = "Studio\nDE89370400440532013000\rEUR999\x85\u2028\x00"
    code = transfer_code(
        FRANZ | {"account_name": name}, due=EUROS, reference="", text="a\nb"
    )

    lines = code.split("\n")
    assert lines[5:8] == [
        "Studio DE89370400440532013000 EUR999",
        "DE71110220330123456789",
        "EUR12.3",
    ]
    assert lines[-1] == "a b"
    assert not any(sign in code for sign in "\r\x85\u2028\x00")
