"""Purchases, drives and receipts, by their pages."""

import io
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from PIL import Image

from invoicing.books.queries import purchase_fact
from invoicing.purchases.models import Purchase
from invoicing.purchases.sums import tax_inside
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person, make_profile
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
PRINTS = {
    "supplier": "Print house",
    "what": "Two prints",
    "kind": "MATERIALS",
    "bought_on": "2026-06-20",
    "gross": "60.00",
    "rate": "20",
    "tax": "",
    "paid_on": "2026-06-20",
    "paid_from": "BANK",
    "private_percent": "",
    "job": "",
}


@pytest.fixture
def ada() -> Person:
    make_profile(distance_rate_minor_hundredths=4_500)
    return make_person()


@pytest.fixture
def browser(ada: Person, client: Browser, monkeypatch: pytest.MonkeyPatch) -> Browser:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    client.force_login(ada)
    return client


def picture() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", (20, 30), "white").save(out, "PNG")
    return SimpleUploadedFile("receipt.png", out.getvalue())


def test_a_purchase_is_written_down_with_the_tax_that_is_in_it(
    browser: Browser,
) -> None:
    browser.post("/money/purchases/new/", PRINTS)

    bought = Purchase.objects.get()
    assert (bought.gross_minor, bought.tax_minor) == (6_000, 1_000)
    assert "Print house" in browser.get("/money/purchases/").content.decode()


@pytest.mark.parametrize(
    ("gross", "rate", "tax"),
    [
        # 20% inside is a sixth: HMRC's VAT fraction. 11 000 at 10% is a eleventh: ATO.
        (6_000, "20", 1_000),
        (11_000, "10", 1_000),
        (9_999, "20", 1_667),
        (500, "0", 0),
    ],
)
def test_the_tax_inside_a_price(gross: int, rate: str, tax: int) -> None:
    assert tax_inside(gross, Decimal(rate)) == tax


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("gross", "0", "Give what it cost, above nothing."),
        ("bought_on", "2026-07-20", "That day is still to come."),
        ("paid_on", "2026-07-20", "That day is still to come."),
        ("tax", "61", "The tax is more than was paid."),
        ("private_percent", "101", "less than or equal to 100"),
        ("supplier", "", ""),
    ],
)
def test_what_cannot_be_is_said_beside_its_field_and_nothing_is_lost(
    browser: Browser, field: str, value: str, sentence: str
) -> None:
    answer = browser.post("/money/purchases/new/", PRINTS | {field: value})

    assert answer.status_code == 422
    assert sentence in " ".join(answer.context["form"].errors[field])
    assert "Two prints" in answer.content.decode()
    assert not Purchase.objects.exists()


def test_a_drive_is_worth_its_distance(browser: Browser) -> None:
    drive = {"what": "Studio to harbour and back", "bought_on": "2026-06-20", "job": ""}

    browser.post("/money/purchases/drive/", drive | {"distance": "24.6"})

    # 24.6 miles at 0.45 are 11.07.
    driven = Purchase.objects.get()
    assert driven.gross_minor == 1_107
    assert not driven.lacks_receipt
    page = browser.get(driven.get_absolute_url()).content.decode()
    assert "24.6 miles" in page


def test_a_drive_without_a_rate_asks_for_one(browser: Browser) -> None:
    StudioProfile.objects.update(distance_rate_minor_hundredths=0)
    drive = {"what": "There", "bought_on": "2026-06-20", "distance": "3"}

    answer = browser.post("/money/purchases/drive/", drive)

    assert "Settings" in str(answer.context["form"].errors["distance"])


def test_a_receipt_is_kept_and_given_back_as_a_download(browser: Browser) -> None:
    browser.post("/money/purchases/new/", PRINTS)
    bought = Purchase.objects.get()
    assert (
        "Print house"
        in browser.get("/money/purchases/?show=no-receipt").content.decode()
    )

    browser.post(f"/money/purchases/{bought.pk}/receipt/keep/", {"receipt": picture()})

    answer = browser.get(f"/money/purchases/{bought.pk}/receipt/")
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["Content-Disposition"].startswith("attachment")
    listed = browser.get("/money/purchases/?show=no-receipt").content.decode()
    assert "Nothing lacks its receipt." in listed


def test_what_is_no_picture_is_refused_with_a_sentence(browser: Browser) -> None:
    browser.post("/money/purchases/new/", PRINTS)
    bought = Purchase.objects.get()
    junk = SimpleUploadedFile("receipt.png", b"<svg onload='x'/>")

    answer = browser.post(
        f"/money/purchases/{bought.pk}/receipt/keep/", {"receipt": junk}
    )

    assert answer.status_code == 422
    assert "could not be read" in answer.content.decode()


def test_a_mistake_is_taken_back_with_its_reason_and_counts_no_more(
    browser: Browser,
) -> None:
    browser.post("/money/purchases/new/", PRINTS)
    bought = Purchase.objects.get()

    browser.post(f"/money/purchases/{bought.pk}/take-back/", {"because": "Twice."})

    page = Markup(browser.get(bought.get_absolute_url()).content.decode())
    assert "Taken back: Twice." in page.words
    assert not Purchase.objects.standing().exists()


def test_the_private_share_is_the_owners_and_not_a_cost(ada: Person) -> None:
    purchase = Purchase(
        kind="SOFTWARE", gross_minor=1_205, tax_minor=201, private_percent=50
    )

    claiming = purchase_fact(purchase)
    outside = purchase_fact(
        Purchase(kind="SOFTWARE", gross_minor=1_205, private_percent=50)
    )

    # 12.05 less 2.01 is 10.04; half is 5.02, half of the tax 1.005, rounded away.
    assert (claiming.cost_minor, claiming.claimed_minor) == (502, 100)
    assert (claiming.private_minor, claiming.private_tax_minor) == (502, 101)
    assert (outside.cost_minor, outside.claimed_minor) == (602, 0)


def test_tax_that_was_claimed_stays_when_the_studio_leaves_tax(
    browser: Browser,
) -> None:
    browser.post("/money/purchases/new/", PRINTS)
    before = [purchase_fact(one) for one in Purchase.objects.all()]

    make_profile(tax_registered=False)

    assert [purchase_fact(one) for one in Purchase.objects.all()] == before
    assert before[0].claimed_minor > 0


def test_an_old_purchase_keeps_its_tax_when_it_is_changed_outside_of_tax(
    browser: Browser,
) -> None:
    browser.post("/money/purchases/new/", PRINTS)
    bought = Purchase.objects.get()
    make_profile(tax_registered=False, currency="EUR")
    path = f"/money/purchases/{bought.pk}/change/"

    shown = Markup(browser.get(path).content.decode())
    browser.post(path, PRINTS | {"tax": "10.00", "what": "Three prints"})

    assert shown.of("input", name="tax", value="10.00")
    assert shown.of("input", name="rate", value="20")
    bought.refresh_from_db()
    assert (bought.what, bought.currency) == ("Three prints", "GBP")
    assert (bought.tax_minor, bought.tax_rate_basis_points) == (1_000, 2_000)
    assert "VAT in it" in browser.get(bought.get_absolute_url()).content.decode()


def test_who_claims_no_tax_is_not_asked_for_it(browser: Browser) -> None:
    make_profile(tax_registered=False)

    page = browser.get("/money/purchases/new/").content.decode()

    assert "VAT" not in page
    assert 'name="tax"' not in page


def test_a_long_list_takes_as_many_queries_as_a_short_one(
    browser: Browser, ada: Person, django_assert_max_num_queries: object
) -> None:
    for number in range(30):
        browser.post("/money/purchases/new/", PRINTS | {"what": f"Print {number}"})

    with django_assert_max_num_queries(12):  # type: ignore[operator]
        browser.get("/money/purchases/")
