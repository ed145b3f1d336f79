"""The command that gives an issued paper's bytes."""

import hashlib
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from invoicing.invoices.models import IssuedDocument
from tests.make_invoicing import make_invoice

pytestmark = pytest.mark.django_db


def test_it_gives_the_bytes_that_are_kept(tmp_path: Path) -> None:
    invoice = make_invoice()
    out, again, said = tmp_path / "one.pdf", tmp_path / "two.pdf", StringIO()

    call_command("print_invoice", invoice.number, out=out, stdout=said)
    call_command("print_invoice", invoice.number, out=again, stdout=StringIO())

    kept = IssuedDocument.objects.select_related("file").get(invoice=invoice).file
    assert out.read_bytes() == again.read_bytes() == bytes(kept.content)
    assert hashlib.sha256(out.read_bytes()).hexdigest() in said.getvalue()


def test_a_number_that_was_not_issued_is_named(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="No paper was issued as 1999-0001"):
        call_command("print_invoice", "1999-0001", out=tmp_path / "none.pdf")


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    number = make_invoice().number

    with pytest.raises(CommandError, match="cannot be written"):
        call_command("print_invoice", number, out=tmp_path / "no" / "such.pdf")
