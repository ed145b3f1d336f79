"""Tax treatments from the draft to the paper, the books and the data."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from invoicing.books.bases import ACCRUAL
from invoicing.books.queries import read_facts
from invoicing.books.tax_summary import tax_summary
from invoicing.einvoices.terms import terms_of
from invoicing.invoices.models import Invoice
from invoicing.invoices.operations import (
    DraftChange,
    DraftError,
    change_draft,
    draft_balance_invoice,
    draft_deposit_invoice,
)
from jobs.clients.models import ClientKind
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile, TaxCategory
from tests.invoicing.invoices.drafts import (
    FIRM,
    draft_for,
    issue,
    rows_of,
    words_of,
)
from tests.make import NOON, make_client, make_job
from tests.make_invoicing import TODAY, make_invoice, make_line, make_order

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("treatment", "short", "said"),
    [
        ("AE", "Reverse charge", "Reverse charge: the customer accounts for the tax."),
        ("G", "Export", "Supplied in another country, so no tax is charged here."),
        ("E", "Exempt", "Exempt from tax."),
        ("Z", "0%", "Zero-rated."),
        ("O", "Outside scope", "Outside the scope of tax."),
    ],
)
def test_a_treatment_goes_from_the_draft_to_paper_books_and_data(
    treatment: str, short: str, said: str
) -> None:
    invoice = issue(draft_for(treatment))

    assert rows_of(invoice) == [(treatment, 0, 10_002, 0)]
    paper = words_of(invoice)
    assert f"{short} £100.02 £0.00" in paper
    assert said in paper
    assert "Germany" in paper
    assert [row["BT-118"] for row in terms_of(invoice.snapshot)["BG-23"]] == [treatment]
    summary = tax_summary(read_facts("GBP"), basis=ACCRUAL, first=TODAY, last=TODAY)
    assert [(row.code, row.taxable_minor) for row in summary.rows(sales=True)] == [
        (f"{treatment}0", 10_002)
    ]


def test_a_line_may_differ_from_its_invoice() -> None:
    # 100.02 at 20 % beside 50.00 zero-rated: 20.00 of tax (20.004).
    book = make_line(5_000, description="Book", treatment="Z")
    invoice = issue(draft_for("S", make_line(), book))

    assert rows_of(invoice) == [("S", 2000, 10_002, 2_000), ("Z", 0, 5_000, 0)]


def test_a_line_without_a_rate_is_what_the_studio_chose_for_that() -> None:
    make_order()
    StudioProfile.objects.update(untaxed_category=TaxCategory.ZERO)

    assert rows_of(make_invoice(make_order(lines=(make_line(rate=0),)))) == [
        ("Z", 0, 10_002, 0)
    ]


def test_the_words_are_frozen_with_the_paper() -> None:
    invoice = issue(draft_for("AE"))
    StudioProfile.objects.update(reverse_words="Other words")

    assert "Other words" not in words_of(Invoice.objects.get(pk=invoice.pk))


def test_the_rest_is_treated_as_its_deposit_was() -> None:
    job = make_job(client=make_client(**FIRM))
    order = make_order(job, price_basis="net", deposit_minor=3_000)
    StudioProfile.objects.update(country="GB")
    draft = draft_deposit_invoice(order=order, by=job.owner, at=NOON)
    assert draft is not None
    change = DraftChange(
        lines=draft.read_content.lines, due_days=7, note="", treatment="AE"
    )
    change_draft(draft_id=draft.pk, change=change, version=1, by=job.owner, at=NOON)
    issue(draft)

    rest = make_invoice(order)

    assert rows_of(rest) == [("AE", 0, 7_002, 0)]


@pytest.mark.parametrize(
    ("treatment", "client", "missing"),
    [
        ("AE", {"tax_number": ""}, "the tax number is missing"),
        ("AE", {"kind": ClientKind.PERSON}, "is a private person"),
        ("AE", {"address": ""}, "the address is missing"),
        ("S", {"address": ""}, "the address is missing"),
        ("G", {"country": "", "tax_number": ""}, "the country is missing"),
    ],
)
def test_what_is_missing_stops_the_issue_with_a_sentence(
    treatment: str, client: dict[str, Any], missing: str
) -> None:
    draft = draft_for(treatment, client=client)

    with pytest.raises(DraftError, match=missing):
        issue(draft)


@pytest.mark.parametrize(
    ("profile", "treatment", "missing"),
    [
        ({"address": ""}, "S", "Your address is missing"),
        ({"tax_number": ""}, "S", "Your VAT number is missing"),
        ({"trading_name": "", "owner_name": ""}, "S", "Your name is missing"),
        ({"reverse_words": ""}, "AE", "The words for “reverse charge” are missing"),
        ({"exempt_words": ""}, "E", "The words for “exempt” are missing"),
    ],
)
def test_what_the_studio_lacks_stops_the_issue_too(
    profile: dict[str, Any], treatment: str, missing: str
) -> None:
    draft = draft_for(treatment)
    StudioProfile.objects.update(**profile)

    with pytest.raises(DraftError, match=missing):
        issue(draft)


def test_what_is_outside_the_scope_stands_alone() -> None:
    # BR-O-11 to BR-O-14 of EN 16931.
    draft = draft_for("O", make_line(), make_line(5_000, treatment="Z"))

    with pytest.raises(DraftError, match="on an invoice of its own"):
        issue(draft)


def test_a_standard_line_needs_its_rate() -> None:
    draft = draft_for("S", make_line(rate=0, treatment="S"))

    with pytest.raises(DraftError, match="Line 1: a line at the standard rate needs"):
        issue(draft)


def test_a_deposit_at_a_rate_is_not_taken_off_what_bears_none() -> None:
    order = make_order(make_job(client=make_client(**FIRM)), deposit_minor=3_000)
    by = Job.objects.get(pk=order.job_id).owner
    deposit = draft_deposit_invoice(order=order, by=by, at=NOON)
    assert deposit is not None
    issue(deposit)
    rest = draft_balance_invoice(order=order, by=by, at=NOON)
    change = DraftChange(
        lines=rest.read_content.lines, due_days=7, note="", treatment="AE"
    )
    change_draft(draft_id=rest.pk, change=change, version=1, by=by, at=NOON)

    with pytest.raises(DraftError, match="2026-0001 was taxed otherwise"):
        issue(rest)


TAX_WORDS = re.compile(
    r"\btax|\bvat\b|rate, %|reverse charge|exempt|zero-rated", re.IGNORECASE
)


def test_a_studio_outside_of_tax_shows_no_word_of_it(client: Browser) -> None:
    order = make_order(lines=(make_line(rate=0), make_line(rate=0)))
    StudioProfile.objects.update(
        tax_registered=False, tax_number="", simplified_limit_minor=None
    )
    job = Job.objects.get(pk=order.job_id)
    client.force_login(job.owner)
    draft = draft_balance_invoice(order=order, by=job.owner, at=NOON)
    pages = [client.get(draft.get_absolute_url())]
    invoice = issue(draft)
    credit_page = reverse("invoicing:invoice_credit", args=[invoice.pk])
    pages.append(client.get(credit_page))
    answer = client.post(
        credit_page,
        {"scope": "part", "because": "Wrong sum", "line-1-amount": "20"},
        follow=True,
    )
    credit = Invoice.objects.get(corrects=invoice)
    pages += [answer, client.get(invoice.get_absolute_url())]
    pages += [
        client.get(reverse("invoicing:money")),
        client.get(job.get_absolute_url()),
    ]
    client_page = reverse("jobs:client_edit", args=[job.client_id])
    pages += [
        client.get(client_page),
        client.get(reverse("jobs:client", args=[job.client_id])),
    ]
    texts = [page.content.decode() for page in pages] + [
        words_of(paper) for paper in (invoice, credit)
    ]

    for text in texts:
        assert TAX_WORDS.findall(visible(text)) == []
    assert rows_of(credit) == [("O", 0, 2_000, 0)]


def visible(page: str) -> str:
    """What a page says, without its markup, its menus and its scripts."""
    main = page.partition("<main")[2] or page
    text, inside = [], False
    for sign in main:
        inside = sign == "<" or (inside and sign != ">")
        text.append(" " if inside else sign)
    return "".join(text)
