"""Interest and a fixed sum for late payment: proposed, drafted, issued, once."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.facts import RateSum
from invoicing.books.queries import read_facts
from invoicing.invoices.credited import Piece
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.taking_back import credit_invoice
from invoicing.owed.losses import Loss, write_off_debt
from invoicing.owed.models import LateBand, LateRate
from invoicing.owed.queries import owing_of
from invoicing.payments.operations import record_payment
from jobs.clients.models import Client, ClientKind
from tests.make import NOON
from tests.make_invoicing import make_invoice, make_line, make_order, make_received
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(days=44)  # 30 days past due: the invoice is due in 14


@pytest.fixture
def invoice() -> Invoice:
    """Have a firm owe 1,200.00 for thirty days, at 13.25%, with the sums of 1998."""
    LateRate.objects.create(from_on=date(2026, 1, 1), basis_points=1_325)
    # Late Payment of Commercial Debts (Interest) Act 1998, section 5A.
    LateBand.objects.create(least_minor=0, sum_minor=4_000)
    LateBand.objects.create(least_minor=100_000, sum_minor=7_000)
    made = make_invoice(make_order(lines=(make_line(120_000),)))
    firm = Client.objects.filter(pk=made.client_id)
    firm.update(kind=ClientKind.ORGANISATION, address="1 Quay\nSandhaven")
    return Invoice.objects.get(pk=made.pk)


@pytest.fixture
def browser(
    invoice: Invoice, client: Browser, monkeypatch: pytest.MonkeyPatch
) -> Browser:
    monkeypatch.setattr("django.utils.timezone.now", lambda: LATER)
    client.force_login(invoice.job.owner)
    return client


def test_it_is_drafted_read_and_issued_outside_of_tax(
    browser: Browser, invoice: Invoice
) -> None:
    about = browser.get(invoice.get_absolute_url()).content.decode()
    assert "£83.07" in about
    address = f"/money/invoices/{invoice.pk}/late/"
    page = Markup(browser.get(address).content.decode())
    # 1,200.00 x 13.25% x 30 / 365 = 13.0685, and 70.00 for a debt of 1,000 and more.
    assert "£13.07" in page.words
    assert "£83.07" in page.words
    assert page.forbidden() == []

    draft = browser.post(address, follow=True)
    page = Markup(draft.content.decode())
    assert "Interest on invoice 2026-0001" in str(page.of("input"))
    posted = {
        attrs["name"]: attrs.get("value", "")
        for attrs in page.of("input")
        if attrs.get("name") and attrs.get("type") != "checkbox"
    }
    browser.post(
        InvoiceDraft.objects.get(charges_for=invoice).get_absolute_url(),
        posted | {"treatment": "O", "due_days": "14", "issue": "1"},
    )

    charge = Invoice.objects.get(purpose="CHARGE")
    assert (charge.gross_minor, charge.tax_minor) == (8_307, 0)
    (_, fact) = read_facts("GBP").papers
    assert fact.rows == (
        RateSum(category="O", rate_basis_points=0, taxable_minor=8_307, tax_minor=0),
    )
    assert charge.number in browser.get(address).content.decode()
    browser.post(address)
    assert InvoiceDraft.objects.filter(charges_for=invoice).count() == 1


def test_it_may_be_charged_after_the_money_came_late(
    browser: Browser, invoice: Invoice
) -> None:
    late_by_ten = (NOON + timedelta(days=24)).date()
    money = make_received(120_000, late_by_ten)
    record_payment(
        money=money, shares={invoice.pk: 120_000}, by=invoice.job.owner, at=LATER
    )

    owing = owing_of(invoice, on=LATER.date())

    # 1,200.00 x 13.25% x 10 / 365 = 4.3562
    assert owing is not None
    assert (owing.interest.minor, owing.sum.minor) == (436, 7_436)


def test_what_was_credited_was_never_owed(invoice: Invoice) -> None:
    piece = Piece(line=0, amount_minor=30_000)
    by = invoice.job.owner
    credit_invoice(
        invoice_id=invoice.pk, because="An hour less", pieces=[piece], by=by, at=LATER
    )

    owing = owing_of(invoice, on=LATER.date())

    # 900.00 x 13.25% x 30 / 365 = 9.8014; below 1,000.00 the fixed sum is 40.00.
    assert owing is not None
    assert (owing.interest.minor, owing.fixed.minor) == (980, 4_000)


def test_what_came_in_time_lowers_the_fixed_sum(invoice: Invoice) -> None:
    money = make_received(30_000)
    record_payment(
        money=money, shares={invoice.pk: 30_000}, by=invoice.job.owner, at=NOON
    )

    owing = owing_of(invoice, on=LATER.date())

    assert owing is not None
    assert (owing.interest.minor, owing.fixed.minor) == (980, 4_000)


def test_what_was_given_up_is_charged_no_more(invoice: Invoice) -> None:
    loss = Loss(
        amount_minor=120_000, lost_on=LATER.date(), because="Wound up", form_key="k"
    )
    write_off_debt(invoice_id=invoice.pk, loss=loss, by=invoice.job.owner, at=LATER)

    assert owing_of(invoice, on=LATER.date()) is None


def test_a_family_and_a_charge_itself_bear_none(
    browser: Browser, invoice: Invoice
) -> None:
    address = f"/money/invoices/{invoice.pk}/late/"
    Client.objects.update(kind=ClientKind.PERSON)
    assert browser.post(address).status_code == 302
    Client.objects.update(kind=ClientKind.ORGANISATION)
    browser.post(address)

    (draft,) = InvoiceDraft.objects.filter(charges_for=invoice)
    of_charge = replace_purpose(invoice, "CHARGE")
    assert draft.purpose == "CHARGE"
    assert owing_of(of_charge, on=LATER.date()) is None


def replace_purpose(invoice: Invoice, purpose: str) -> Invoice:
    charge = Invoice.objects.select_related("client").get(pk=invoice.pk)
    charge.purpose = purpose
    return charge
