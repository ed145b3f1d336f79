"""Papers that were issued before snapshots had a tax treatment print as they did.

The snapshots are of format 1, as they were stored on 2026-11-28; the hashes are those
of the PDF's pages, unpacked (another zlib packs otherwise), and of the UBL that were
made of them on that day.
"""

import hashlib
import json
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from invoicing.einvoices.terms import terms_of
from invoicing.einvoices.writing import write_xml
from invoicing.invoices.documents import print_invoice
from invoicing.invoices.printed import printed_invoice

OLD: dict[str, Any] = json.loads(
    Path(__file__).with_name("old_papers.json").read_text(encoding="utf-8")
)


def drawn_on(paper: bytes) -> bytes:
    """Return what the pages draw, one after another."""
    contents = [page.get_contents() for page in PdfReader(BytesIO(paper)).pages]
    return b"\f".join(one.get_data() for one in contents if one is not None)


@pytest.mark.parametrize("name", OLD)
def test_an_old_paper_keeps_what_it_shows(name: str) -> None:
    paper = print_invoice(printed_invoice(OLD[name]["snapshot"]))

    assert hashlib.sha256(drawn_on(paper)).hexdigest() == OLD[name]["pdf"]


@pytest.mark.parametrize("name", OLD)
def test_the_data_of_an_old_paper_keeps_its_bytes(name: str) -> None:
    data = write_xml(terms_of(OLD[name]["snapshot"]), syntax="ubl")

    assert hashlib.sha256(data).hexdigest() == OLD[name]["ubl"]
