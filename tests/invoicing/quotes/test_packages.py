"""Packages side by side: exactly one is chosen, and agreed to as it stood."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any

import pytest
from django.db import DatabaseError, connection, transaction
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from invoicing.invoices.models import InvoiceDraft
from invoicing.quotes.accepting import NoPackageError, Yes, accept_quote
from invoicing.quotes.checks import wrong_answers
from invoicing.quotes.models import Acceptance, Basis, Quote
from invoicing.quotes.operations import QuoteError
from invoicing.quotes.queries import total_of
from invoicing.quotes.sending import send_quote
from invoicing.quotes.snapshots import (
    Choice,
    content_of,
    hash_of,
    lowest_choice,
    snapshot_of,
)
from studio.profile.models import DepositKind
from tests.invoicing.quotes.client_answers import say_yes
from tests.make import NOON
from tests.make_quotes import (
    PRINT,
    SESSION,
    TERMS,
    fresh_draft,
    open_quote,
    path_of,
    posted_quote,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]
SHORT = replace(SESSION, description="One hour", package="Short", cost_minor=2_000)
LONG = replace(SHORT, description="A day", unit_price_minor=79_500, package="Long")
LINES = (SHORT, LONG, PRINT)
QUARTER = replace(
    TERMS, deposit_kind=DepositKind.PERCENT, deposit_percent=25, deposit_minor=0
)


def offered(**fields: Any) -> Quote:
    until = (timezone.now() + timedelta(days=9)).date()
    terms = replace(fields.pop("terms", QUARTER), valid_until_on=until)
    return open_quote(**({"lines": LINES, "terms": terms} | fields))


def test_nothing_is_chosen_beforehand_and_the_price_follows_the_choice(
    client: Browser,
) -> None:
    quote = offered()
    path, extra = path_of(quote), quote.lines.get(optional=True)

    page = client.get(path).content.decode()
    assert " checked" not in page
    assert page.count('type="radio"') == 2
    assert "From £420.00" in " ".join(page.split())

    chosen = client.get(f"{path}price/", {"package": "2", "extra": str(extra.pk)})
    price = chosen.content.decode()
    # By hand: 795.00 + 95.00; a quarter of it is 222.50; VAT in it 890.00 / 6 = 148.33.
    assert "£890.00" in price
    assert "Pay the deposit of £222.50" in price or "£222.50" in price
    assert "VAT of £148.33 is in it" in price


def test_without_script_the_total_is_updated_by_a_button(client: Browser) -> None:
    quote = offered()

    page = client.post(path_of(quote), {"package": "2", "look": "1", "name": "Merle"})

    text = page.content.decode()
    assert page.status_code == 200
    assert 'name="agreed" value="79500"' in text
    assert "Update total" in text
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize("package", ["", "3", "0", "x"])
def test_a_yes_without_a_package_of_the_quote_is_refused_beside_it(
    client: Browser, package: str
) -> None:
    quote = offered()

    posted = {"name": "Merle Tarn", "agreed": "42000", "package": package}
    page = client.post(path_of(quote), posted)

    assert page.status_code == 422
    assert "Choose one of the packages." in page.content.decode()
    assert not Acceptance.objects.exists()
    with pytest.raises(NoPackageError):
        accept_quote(quote_id=quote.pk, yes=Yes(name="Merle"), at=timezone.now())


def test_the_yes_keeps_the_package_and_the_extras_exactly(client: Browser) -> None:
    quote = offered()
    extra = quote.lines.get(optional=True)

    text = say_yes(client, quote, package="2", extra=extra.pk, agreed="89000")

    answer = Acceptance.objects.get()
    assert answer.chosen == {
        "package": 2,
        "package_name": "Long",
        "extras": [extra.pk],
    }
    assert (answer.total_minor, answer.deposit_minor) == (89_000, 22_250)
    assert [line.description for line in answer.agreed_content().lines] == [
        "A day",
        "One framed print",
    ]
    assert "Pay £222.50 by" in text
    assert InvoiceDraft.objects.get().read_content.totals().gross == Decimal("222.50")
    assert list(wrong_answers()) == []
    with pytest.raises(DatabaseError, match="never rewritten"), transaction.atomic():
        Acceptance.objects.update(chosen={"package": 1})


def test_the_mark_of_the_yes_covers_the_choice_and_that_of_the_quote_the_packages() -> (
    None
):
    twin = replace(LONG, description="One hour", unit_price_minor=42_000)
    quote = offered(lines=(SHORT, twin))
    snapshot = dict(quote.snapshot or {})

    renamed = snapshot | {"packages": list(reversed(snapshot["packages"]))}
    assert hash_of(renamed) != quote.snapshot_hash
    # Two packages of equal lines: only the choice tells one yes from the other.
    choices = [Choice(package=place).to_json(snapshot) for place in (1, 2)]
    assert choices[0] != choices[1]
    assert content_of(snapshot, Choice(package=1)) == content_of(
        snapshot, Choice(package=2)
    )


def test_totals_with_a_package_are_those_of_the_worked_example() -> None:
    # EN 16931, worked by hand: 99.95 at 20 % and 49.95 at 10 %, a tenth off both:
    # rows 89.95 and 17.99, 44.95 and 4.50; before tax 134.90, tax 22.49, in all 157.39.
    always = replace(SESSION, unit_price_minor=9_995)
    book = replace(
        SHORT, unit_price_minor=4_995, tax_rate_basis_points=1000, package="Book"
    )
    none = replace(book, unit_price_minor=100, package="Bare")
    terms = replace(
        QUARTER, discount_percent_hundredths=1000, discount_reason="a friend"
    )
    quote = fresh_draft(lines=(always, book, none), terms=terms)
    Quote.objects.update(price_basis=Basis.NET)
    quote = Quote.objects.get(pk=quote.pk)

    snapshot = snapshot_of(quote, on=NOON.date())
    totals = content_of(snapshot, Choice(package=1)).totals()

    assert (totals.net, totals.tax, totals.gross) == (
        Decimal("134.90"),
        Decimal("22.49"),
        Decimal("157.39"),
    )
    assert lowest_choice(snapshot) == Choice(package=2)
    assert total_of(quote).minor == snapshot["total_minor"]
    assert snapshot["total_minor"] < 15_739


def test_a_choice_of_one_and_a_discount_without_a_reason_do_not_go_out() -> None:
    lonely = fresh_draft(lines=(SHORT,))
    with pytest.raises(QuoteError, match="the only package"):
        send_quote(
            quote_id=lonely.pk, letter=None, by=lonely.job.owner, at=timezone.now()
        )

    lonely.lines.update(package="")
    Quote.objects.update(discount_minor=1_000)
    with pytest.raises(QuoteError, match="what the discount is for"):
        send_quote(
            quote_id=lonely.pk, letter=None, by=lonely.job.owner, at=timezone.now()
        )


def test_a_yes_by_phone_chooses_a_package_too(client: Browser) -> None:
    quote = offered()
    client.force_login(quote.job.owner)
    local = timezone.localtime()
    posted = {
        "name": "Merle Tarn",
        "how": "PHONE",
        "said_on": local.date().isoformat(),
        "said_at": f"{local:%H:%M}",
    }
    path = reverse("invoicing:quote_yes", args=[quote.pk])

    assert client.post(path, posted).status_code == 422
    client.post(path, posted | {"package": "1"})

    assert Acceptance.objects.get().package_name == "Short"
    assert (
        "Package: <b>Short</b>" in client.get(quote.get_absolute_url()).content.decode()
    )


def test_the_paper_sets_each_package_with_its_price_and_the_yes_names_one(
    client: Browser,
) -> None:
    quote = offered()

    def words() -> str:
        answer = client.get(f"{path_of(quote)}pdf/")
        content = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
        pages = PdfReader(BytesIO(content)).pages
        return " ".join(" ".join(page.extract_text().split()) for page in pages)

    before = words()
    assert "Package 1: Short" in before
    assert "Package 2: Long" in before
    assert "£198.75 £795.00" in before
    say_yes(client, quote, package="2", agreed="79500")
    after = words()
    assert "Package: Long." in after
    assert "One hour" not in after


def test_more_packages_cost_no_more_queries(client: Browser) -> None:
    many = tuple(replace(SHORT, package=f"Way {place}") for place in range(6))
    two, six = offered(), offered(lines=many, job=None, with_session=True)

    def cost(quote: Quote) -> int:
        with CaptureQueriesContext(connection) as counted:
            client.get(path_of(quote))
        return len(counted)

    assert cost(six) == cost(two)


def test_the_builder_offers_packages_from_the_list_without_script(
    client: Browser,
) -> None:
    quote = fresh_draft(lines=(SHORT, LONG))
    client.force_login(quote.job.owner)
    page = client.get(quote.get_absolute_url()).content.decode()
    assert "Package: Short" in page
    assert "Package: Long" in page
    assert "The client chooses one" in page

    line = {"description": "X", "quantity": "1", "price": "9"}
    both = line | {"optional": "on", "package": "Short"}
    refused = client.post(quote.get_absolute_url(), posted_quote([line, both]))
    assert "An extra goes with every package" in refused.content.decode()
