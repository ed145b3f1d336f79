"""The page of a draft: what it asks, what it keeps, and what stops an issue."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from django.test import Client as Browser

from invoicing.invoices.models import InvoiceDraft
from invoicing.invoices.operations import draft_balance_invoice
from jobs.clients.models import Client, ClientKind
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile
from tests.make import NOON
from tests.make_invoicing import make_line, make_order

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(client: Browser) -> InvoiceDraft:
    line = make_line(detail="Two hours by the sea", unit="hours")
    order = make_order(lines=(line,))
    content = replace(order.content, currency="EUR")
    by = Job.objects.get(pk=order.job_id).owner
    client.force_login(by)
    return draft_balance_invoice(order=replace(order, content=content), by=by, at=NOON)


def posted(version: int = 1, **fields: str) -> dict[str, Any]:
    return {
        "treatment": "S",
        "due_days": "14",
        "version": str(version),
        "line-TOTAL_FORMS": "1",
        "line-INITIAL_FORMS": "1",
        "line-0-description": "Session",
        "line-0-detail": "Two hours by the sea",
        "line-0-unit": "hours",
        "line-0-quantity": "1",
        "line-0-price": "100.02",
        "line-0-rate": "20",
        "line-0-treatment": "",
    } | fields


def test_the_page_shows_what_a_line_carries_and_saving_keeps_it(
    client: Browser, draft: InvoiceDraft
) -> None:
    page = client.get(draft.get_absolute_url()).content.decode()
    client.post(draft.get_absolute_url(), posted(treatment="Z"))

    assert 'value="Two hours by the sea"' in page
    (line,) = InvoiceDraft.objects.get(pk=draft.pk).read_content.lines
    assert (line.detail, line.unit, line.treatment) == (
        "Two hours by the sea",
        "hours",
        "Z",
    )
    assert line.unit_price_minor == 10_002


def test_a_rate_comes_back_when_the_treatment_does(
    client: Browser, draft: InvoiceDraft
) -> None:
    address = draft.get_absolute_url()
    client.post(address, posted(treatment="AE"))
    page = client.get(address).content.decode()
    client.post(address, posted(version=2, treatment="S"))

    assert 'value="20"' in page
    totals = InvoiceDraft.objects.get(pk=draft.pk).read_content.totals()
    assert str(totals.tax) == "16.67"


def test_what_is_missing_is_listed_and_the_draft_stays_saved(
    client: Browser, draft: InvoiceDraft
) -> None:
    Client.objects.update(kind=ClientKind.ORGANISATION)
    address = draft.get_absolute_url()

    answer = client.post(address, posted(treatment="AE", issue="1"), follow=True)
    page = answer.content.decode()

    assert "Saved, but not issued." in page
    assert "Before it can be issued" in page
    assert "the tax number is missing; a reverse charge names it." in page
    saved = InvoiceDraft.objects.get(pk=draft.pk)
    assert (saved.version, saved.read_content.treatment) == (2, "AE")
    assert not saved.is_issued


def test_a_firm_elsewhere_is_a_caution_and_stops_nothing(
    client: Browser, draft: InvoiceDraft
) -> None:
    Client.objects.update(
        kind=ClientKind.ORGANISATION, country="NO", address="Naustet 2"
    )
    StudioProfile.objects.update(country="GB")
    address = draft.get_absolute_url()

    page = client.get(address).content.decode()
    client.post(address, posted(issue="1"))

    assert "is in Norway. Find out whether the tax is due there" in page
    assert InvoiceDraft.objects.get(pk=draft.pk).is_issued


def test_a_simplified_invoice_is_offered_only_where_it_is_switched_on(
    client: Browser, draft: InvoiceDraft
) -> None:
    address = draft.get_absolute_url()
    before = client.get(address).content.decode()
    StudioProfile.objects.update(simplified_limit_minor=20_000)

    after = client.get(address).content.decode()
    client.post(address, posted(simplified="on", issue="1"))

    assert "Simplified invoice" not in before
    assert "Simplified invoice" in after
    issued = InvoiceDraft.objects.get(pk=draft.pk).invoice
    assert issued.snapshot["simplified"]
