"""Two people credit one invoice in the same instant."""

from functools import partial
from pathlib import Path

from invoicing.invoices.credited import Piece
from invoicing.invoices.taking_back import credit_invoice
from tests.make import NOON, make_person
from tests.make_invoicing import make_invoice
from tests.rivals import in_a_file, race


def test_of_two_at_once_one_gets_what_is_left(ring: Path) -> None:
    invoices = [make_invoice() for _ in range(3)]
    by, most = make_person(), Piece(line=0, amount_minor=6_000)
    act = partial(credit_invoice, because="Too dear", by=by, at=NOON, pieces=[most])

    with in_a_file(ring):
        rounds = [
            race(*[partial(act, invoice_id=invoice.pk)] * 2) for invoice in invoices
        ]

    for given in rounds:
        kinds = sorted(type(one).__name__ for one in given)
        assert kinds == ["CreditError", "Invoice"]
