"""What a line of the bank is taken for. The lines are invented, as banks write them."""

from dataclasses import replace

import pytest

from invoicing.bank.matching import OpenPaper, propose


def paper(
    pk: int, client: str, balance: int, *, number: str = "", client_id: int = 0
) -> OpenPaper:
    number = number or f"2026-{pk:04d}"
    return OpenPaper(
        pk=pk,
        number=number,
        references=(number, f"J-2026-{100 + pk}"),
        client_id=client_id or pk,
        client=client,
        balance_minor=balance,
    )


BAND = paper(41, "Saltpan Brass Band", 31_349)
KESTLE = paper(42, "Ada Kestle", 12_000, client_id=7)
KESTLE_2 = paper(43, "Ada Kestle", 4_500, client_id=7)
VEY = paper(44, "Jonas Vey", 12_000)
ALL = [BAND, KESTLE, KESTLE_2, VEY]


@pytest.mark.parametrize(
    ("amount", "text", "party", "numbers", "shares", "is_sure"),
    [
        (31_349, "INV 2026-0041", "S P BRASS", [41], [31_349], True),
        (31_349, "inv20260041 thanks", "", [41], [31_349], True),
        (31_349, "job J-2026-141", "", [41], [31_349], True),
        (10_000, "2026-0041", "", [41], [10_000], False),
        (40_000, "2026-0041", "", [41], [31_349], False),
        (12_000, "photos", "MS A KESTLE", [42], [12_000], True),
        (12_000, "photos", "J VEY", [44], [12_000], True),
        (16_500, "both", "KESTLE A", [42, 43], [12_000, 4_500], True),
        (16_500, "2026-0042 2026-0043", "", [42, 43], [12_000, 4_500], True),
        (13_000, "2026-0042 2026-0043", "", [42, 43], [12_000, 1_000], False),
        (4_500, "prints", "somebody", [43], [4_500], False),
    ],
)
def test_what_a_line_seems_to_pay(
    amount: int,
    text: str,
    party: str,
    numbers: list[int],
    shares: list[int],
    is_sure: bool,
) -> None:
    found = propose(amount, text, party, ALL)

    assert found is not None
    assert [one.pk for one in found.papers] == numbers
    assert list(found.shares) == shares
    assert found.is_sure is is_sure
    assert found.reason


@pytest.mark.parametrize(
    ("amount", "text", "party"),
    [
        (12_000, "photos", "somebody"),  # two invoices have this sum
        (999, "", ""),
        (12_000, "2026-00411", "no such number"),
        (12_000, "12026-0041", "not this number"),
    ],
)
def test_what_fits_nothing_or_too_much_is_left_to_a_person(
    amount: int, text: str, party: str
) -> None:
    assert propose(amount, text, party, [BAND, KESTLE, VEY]) is None


def test_accents_and_case_do_not_part_a_name() -> None:
    wool = paper(1, "Söhne & Wool Ltd", 5_000)

    found = propose(5_000, "", "SOHNE AND WOOL", [wool, paper(2, "Other", 5_000)])

    assert found is not None
    assert found.papers == (wool,)


def test_a_name_alone_never_settles() -> None:
    found = propose(9_999, "", "Saltpan Brass Band", ALL)

    assert found is not None
    assert not found.is_sure


@pytest.mark.parametrize(
    "text",
    [
        "RF8820260042",
        "EREF+1 SVWZ+RF88 2026 0042 thank you",
        "rf88 2026 0042",
    ],
)
def test_a_creditor_reference_names_its_invoice(text: str) -> None:
    # ISO 11649: the reference of 2026-0042, printed in fours or sent without spaces.
    referring = replace(KESTLE, number="A", references=("A-1", "RF8820260042"))

    found = propose(12_000, text, "SOMEBODY ELSE", [referring, VEY])

    assert found is not None
    assert [paper.pk for paper in found.papers] == [42]
    assert found.is_sure


def test_a_longer_reference_is_another_one() -> None:
    referring = replace(KESTLE, number="A", references=("A-1", "RF8820260042"))

    assert propose(1, "RF88202600421", "SOMEBODY", [referring]) is None
