"""The page of a draft: what it asks, what it keeps, and what stops an issue."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from django.test import Client as Browser

from invoicing.invoices.content import Deduction
from invoicing.invoices.dated_rates import older_rates
from invoicing.invoices.models import InvoiceDraft
from invoicing.invoices.operations import draft_balance_invoice
from invoicing.prices.models import RateChange
from invoicing.prices.rates import Change, DatedRates
from jobs.clients.models import Client, ClientKind
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile
from tests.make import NOON
from tests.make_invoicing import TODAY, make_line, make_order

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


def test_an_agreed_rate_is_kept_until_the_rate_of_the_day_is_asked_for(
    client: Browser, draft: InvoiceDraft, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The price has its tax in it and stays: 100.02 at 20% holds 16.67, at 22% 18.04
    # (100.02 x 22 / 122 = 18.0364).
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    RateChange.objects.create(
        from_on=TODAY, was_basis_points=2000, becomes_basis_points=2200
    )
    address = draft.get_absolute_url()

    page = client.get(address).content.decode()
    client.post(address, posted())
    draft.refresh_from_db()
    kept = draft.read_content
    client.post(address, posted(version=2, use_rates="1"))
    after = client.get(address).content.decode()

    assert (
        "Agreed at 20%, and kept. Since Sunday 21 June 2026 that rate is 22%." in page
    )
    assert "Use the rate of Sun 21 Jun 2026" in page
    assert str(kept.totals().tax) == "16.67"
    draft.refresh_from_db()
    now = draft.read_content.totals()
    assert (str(now.gross), str(now.tax)) == ("100.02", "18.04")
    assert "Agreed at" not in after
    assert "use_rates" not in after


def test_lines_without_tax_or_with_a_deposit_off_are_not_offered_another_rate(
    draft: InvoiceDraft,
) -> None:
    rates = DatedRates((Change(TODAY, 2000, 2200),))
    content = draft.read_content
    off = Deduction(
        number="2026-0001",
        issued_on="2026-06-01",
        category="S",
        tax_rate_basis_points=2000,
        taxable_minor=1_000,
        tax_minor=200,
    )
    exempt = content.with_lines([make_line(treatment="E")])

    with_deposit = older_rates(replace(content, deductions=(off,)), rates, TODAY)

    assert older_rates(exempt, rates, TODAY).remarks == ("",)
    assert not with_deposit.may_change
    assert "What was invoiced ahead at that rate" in with_deposit.remarks[0]
