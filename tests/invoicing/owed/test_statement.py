"""A statement on paper: opening and what happened make the closing balance."""

import io
from dataclasses import replace
from datetime import timedelta

import pytest
from django.test import Client as Browser
from pypdf import PdfReader

from invoicing.owed.documents import print_statement
from invoicing.owed.statements import (
    printed_statement,
    statement_of,
    statement_words,
)
from invoicing.payments.operations import record_payment
from studio.mail.models import Message
from tests.make import NOON, make_job, make_person
from tests.make_invoicing import (
    TODAY,
    make_invoice,
    make_line,
    make_order,
    make_received,
)

pytestmark = pytest.mark.django_db
PAID_ON = TODAY + timedelta(days=10)


def test_days_in_the_wrong_order_show_no_balance_of_another_day(
    client: Browser,
) -> None:
    invoice = make_invoice()
    client.force_login(make_person())

    answer = client.get(
        f"/money/owed/{invoice.client.pk}/?first=2026-06-30&last=2026-06-20"
    )

    assert "That is after the day beside it." in answer.content.decode()
    found = answer.context["statement"]
    assert found.first < found.last


def test_it_ends_on_what_is_owed_and_goes_out_once(client: Browser) -> None:
    # 100.02 invoiced before the first day, 40.00 paid in it: 60.02 is open.
    invoice, by = make_invoice(), make_person()
    record_payment(
        money=make_received(4_000, PAID_ON),
        shares={invoice.pk: 4_000},
        by=by,
        at=NOON,
    )
    client.force_login(by)
    found = statement_of(invoice.client, first=TODAY + timedelta(days=1), last=PAID_ON)

    path = f"/money/owed/{invoice.client.pk}/"
    paper = client.get(f"{path}statement.pdf?{found.query}")
    shown = client.get(f"{path}send/?{found.query}").content.decode()
    letter = {
        "address": "meyer@example.org",
        "subject": "Statement",
        "words": "As of today.",
        "form_key": "s-1",
    }
    for _ in range(2):
        client.post(f"{path}send/?{found.query}", letter)

    (part,) = found.parts
    assert (part.opening.minor, part.closing.minor) == (10_002, 6_002)
    assert sum(sum_.minor for _, sum_ in part.ages) == 6_002
    words = PdfReader(io.BytesIO(paper.content)).pages[0].extract_text()
    assert "£60.02" in words
    assert "100.02" in words
    assert "meyer@example.org" in shown
    (message,) = Message.objects.filter(subject="Statement")
    assert message.files.count() == 1


def test_each_currency_has_an_account_of_its_own() -> None:
    # 100.02 pounds and 50.00 euros are open; no sum holds both.
    invoice = make_invoice()
    job = make_job(client=invoice.client)
    order = make_order(job, lines=(make_line(5_000),))
    make_invoice(replace(order, content=replace(order.content, currency="EUR")))

    found = statement_of(invoice.client, first=TODAY, last=PAID_ON)
    printed = printed_statement(found)
    words = PdfReader(io.BytesIO(print_statement(printed))).pages[0].extract_text()

    assert [part.closing.minor for part in found.parts] == [10_002, 5_000]
    assert [part.name for part in printed.parts] == ["In GBP", "In EUR"]
    assert [part.total[1] for part in printed.parts] == ["£100.02", "€50.00"]
    assert "£100.02 is open. €50.00 is open." in statement_words(found)["words"]
    assert words.index("In GBP") < words.index("In EUR")
