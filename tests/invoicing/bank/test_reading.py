"""Statements out of CSV and camt.053.

The camt sample is written for this test after the message definition of ISO 20022
(BankToCustomerStatement, camt.053.001.08): element names and their order from memory.
"""

from datetime import date

import pytest

from invoicing.bank.reading import guess_columns, read_camt, read_lines
from studio.tables import UnreadableTableError, read_table

SIGNED = b"""Account,12345678
Date,Counter Party,Reference,Amount (GBP),Balance (GBP)
28/10/2026,S P BRASS,2026-0041,313.49,1000.00
29/10/2026,PRINT ROOMS,Card 12,"-1,103.68",-103.68
"""
TWO_WAYS = """Datum;Description;Paid in;Paid out
10/28/2026;Ada Kestle;120,00;
10/29/2026;Fee;;3,50
""".encode("cp1252")
CAMT = """<?xml version="1.0" encoding="UTF-8"?>
<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.08"><BkToCstmrStmt>
<Stmt><Id>1</Id>
<Ntry><Amt Ccy="GBP">313.49</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts><Cd>BOOK</Cd></Sts>
<BookgDt><Dt>2026-10-28</Dt></BookgDt><AcctSvcrRef>X1</AcctSvcrRef><NtryDtls><TxDtls>
<Refs><EndToEndId>NOTPROVIDED</EndToEndId></Refs>
<RltdPties><Dbtr><Pty><Nm>S P Brass</Nm></Pty></Dbtr></RltdPties>
<RmtInf><Ustrd>Invoice 2026-0041</Ustrd></RmtInf></TxDtls></NtryDtls></Ntry>
<Ntry><Amt Ccy="GBP">12.00</Amt><CdtDbtInd>DBIT</CdtDbtInd><Sts>BOOK</Sts>
<BookgDt><DtTm>2026-10-29T10:00:00</DtTm></BookgDt><AddtlNtryInf>Fee</AddtlNtryInf>
</Ntry>
<Ntry><Amt Ccy="GBP">99.00</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts><Cd>PDNG</Cd></Sts>
<BookgDt><Dt>2026-10-30</Dt></BookgDt></Ntry>
</Stmt></BkToCstmrStmt></Document>"""


def test_a_signed_column_is_found_and_read() -> None:
    table = read_table(SIGNED)
    columns = guess_columns(table, "GBP")

    lines, bad = read_lines(table, columns, "GBP")

    assert bad == []
    assert [line.amount_minor for line in lines] == [31_349, -110_368]
    assert lines[0].booked_on == date(2026, 10, 28)
    assert (lines[0].party, lines[0].text) == ("S P BRASS", "2026-0041")


def test_two_columns_and_months_first_are_found_and_read() -> None:
    table = read_table(TWO_WAYS)
    columns = guess_columns(table, "GBP")

    lines, bad = read_lines(table, columns, "GBP")

    assert bad == []
    assert [line.amount_minor for line in lines] == [12_000, -350]
    assert lines[1].booked_on == date(2026, 10, 29)


def test_a_row_that_cannot_be_read_is_named_with_its_place() -> None:
    table = read_table(
        SIGNED + b"soon,X,Y,5,0\n30/10/2026,X,Y,five,0\n30/10/2026,X,Y,0,0\n"
    )
    columns = guess_columns(read_table(SIGNED), "GBP")

    lines, bad = read_lines(table, columns, "GBP")

    assert len(lines) == 2
    assert [(one.place, one.why) for one in bad] == [
        (3, "“soon” is no day."),
        (4, "“five” is no amount."),
        (5, "No money moves."),
    ]


@pytest.mark.parametrize("version", ["02", "04", "08"])
def test_booked_lines_of_a_camt_statement_are_read(version: str) -> None:
    lines = read_camt(CAMT.replace("001.08", f"001.{version}").encode(), "GBP")

    assert [line.amount_minor for line in lines] == [31_349, -1_200]
    assert lines[0].party == "S P Brass"
    assert lines[0].text == "Invoice 2026-0041"
    assert lines[0].bank_id == "X1"
    assert (lines[1].booked_on, lines[1].text) == (date(2026, 10, 29), "Fee")


def test_a_reversal_goes_the_other_way() -> None:
    turned = CAMT.replace(
        "<CdtDbtInd>CRDT</CdtDbtInd><Sts><Cd>BOOK",
        "<CdtDbtInd>CRDT</CdtDbtInd><RvslInd>true</RvslInd><Sts><Cd>BOOK",
        1,
    )

    assert read_camt(turned.encode(), "GBP")[0].amount_minor == -31_349


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"<?xml version='1.0'?><a>", "no readable XML"),
        (b"<a/>", "no account statement"),
        (
            b"<!DOCTYPE a [<!ENTITY b 'c'>]><a>&b;</a>",
            "no readable XML",
        ),
        (CAMT.replace('Ccy="GBP"', 'Ccy="EUR"').encode(), "not in GBP"),
        (b"<Document><BkToCstmrStmt/></Document>", "no booked line"),
    ],
)
def test_what_is_no_statement_is_refused_with_a_sentence(
    content: bytes, sentence: str
) -> None:
    with pytest.raises(UnreadableTableError, match=sentence):
        read_camt(content, "GBP")
