"""Simplified invoices, and what helps to pay: a reference and a code to scan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from django.test import Client as Browser

from invoicing.einvoices.terms import terms_of
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.operations import (
    DraftError,
    draft_deposit_invoice,
)
from jobs.clients.models import ClientKind
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile
from tests.invoicing.invoices.drafts import (
    draft_for,
    issue,
    words_of,
)
from tests.make import NOON
from tests.make_invoicing import TODAY, make_invoice, make_order

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("fields", "refused"),
    [
        ({}, ""),
        ({"client": {"kind": ClientKind.ORGANISATION}}, "for private clients"),
        ({"limit": 12_001}, "for £120.01 at most"),
        ({"limit": None}, "switched off"),
        ({"treatment": "G"}, "needs a full invoice"),
    ],
)
def test_a_simplified_invoice_is_for_private_clients_and_small_sums(
    fields: dict[str, Any], refused: str
) -> None:
    private = {"kind": ClientKind.PERSON, "country": "NO"}
    draft = draft_for(
        fields.get("treatment", "S"),
        client=private | fields.get("client", {}),
        simplified=True,
    )
    limit = fields.get("limit", 12_002)
    StudioProfile.objects.update(simplified_limit_minor=limit)

    if refused:
        with pytest.raises(DraftError, match=refused):
            issue(draft)
        return
    paper = words_of(issue(draft))
    # Directive 2006/112/EC, article 226b: date, supplier, what, tax; no address of
    # the client.
    for words in ("Simplified invoice", "21 June 2026", "Vane Portraits", "£20.00"):
        assert words in paper
    assert "Mill Street" not in paper


def test_an_invoice_in_euros_has_reference_and_code(client: Browser) -> None:
    make_order()
    StudioProfile.objects.update(
        prints_creditor_reference=True,
        prints_payment_code=True,
        iban="IE29 AIBK 9311 5212 3456 78",
    )
    order = make_order()
    invoice = make_invoice(
        replace(order, content=replace(order.content, currency="EUR"))
    )

    assert invoice.snapshot["creditor_reference"] == "RF3120260001"
    code = invoice.snapshot["payment_code"].splitlines()
    assert code[6:8] == ["IE29AIBK93115212345678", "EUR100.02"]
    paper = words_of(invoice)
    assert "RF31 2026 0001" in paper
    assert "Scan to pay" in paper
    assert terms_of(invoice.snapshot)["BT-83"] == "RF3120260001"


def test_what_was_paid_before_its_invoice_has_no_code() -> None:
    order = make_order(deposit_minor=5_000)
    StudioProfile.objects.update(
        prints_payment_code=True, iban="IE29 AIBK 9311 5212 3456 78"
    )
    content = replace(order.content, currency="EUR")
    job = Job.objects.get(pk=order.job_id)
    draft = draft_deposit_invoice(
        order=replace(order, content=content), by=job.owner, at=NOON
    )
    assert draft is not None

    deposit = issue_invoice(draft_id=draft.pk, by=None, at=NOON, tax_point_on=TODAY)

    assert deposit.snapshot["payment_code"] == ""


def test_without_the_setting_there_is_neither() -> None:
    snapshot = make_invoice().snapshot

    assert (snapshot["creditor_reference"], snapshot["payment_code"]) == ("", "")
