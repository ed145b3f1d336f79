from typing import Any

import pytest
from django.test import Client as Browser

from invoicing.prices.models import PriceItem
from invoicing.quotes.models import Quote
from jobs.jobs.models import Job
from jobs.places.models import Place
from studio.history.models import JournalEntry
from studio.people.models import Person
from studio.profile.models import DepositKind, StudioProfile
from studio.sections import first_sections
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db

WHO = {
    "trading_name": "Vane Portraits",
    "owner_name": "Ada Vane",
    "address": "2 Quay Row\nSandhaven",
    "phone": "01632 960001",
    "email": "ada@vane.example",
}
MONEY = {
    "currency": "GBP",
    "tax_registered": "no",
    "deposit": "100",
    "deposit_kind": DepositKind.AMOUNT,
    "account_name": "Ada Vane",
    "sort_code": "000000",
    "account_number": "00000000",
}
WHERE = {"home_name": "The studio", "position": "55.39 N, 1.60 W", "is_room": "on"}
PRICES = {"what_1": "Family session", "price_1": "420", "terms": "Plain terms."}
ANSWERS = {"who": WHO, "money": MONEY, "where": WHERE, "prices": PRICES, "public": {}}


@pytest.fixture
def owner() -> Person:
    return make_person("Owner")


@pytest.fixture
def browser(owner: Person) -> Browser:
    browser = Browser()
    browser.force_login(owner)
    return browser


def step(slug: str) -> str:
    return f"/first-run/{slug}/"


def answer(browser: Browser, slug: str, **changes: Any) -> Any:
    return browser.post(step(slug), ANSWERS[slug] | changes)


def test_the_owner_of_an_empty_studio_is_led_to_the_first_step(
    browser: Browser,
) -> None:
    assert browser.get("/today/")["Location"] == "/first-run/"
    assert browser.get("/first-run/")["Location"] == step("who")


def test_five_steps_set_a_studio_up(browser: Browser) -> None:
    slugs = [section.slug for section in first_sections()]
    assert slugs == ["who", "money", "where", "prices", "public"]

    for slug, following in zip(
        slugs, [*map(step, slugs[1:]), step("ready")], strict=True
    ):
        assert answer(browser, slug)["Location"] == following

    profile = StudioProfile.load()
    assert profile.trading_name == "Vane Portraits"
    assert profile.phone == "+441632960001"
    assert (profile.tax_registered, profile.deposit_minor) == (False, 10_000)
    assert (profile.sort_code, profile.account_number) == ("00-00-00", "00000000")
    # tzfpy's boundaries: the English coast keeps the time of London.
    assert profile.time_zone == "Europe/London"
    assert Place.objects.get().name == "The studio"
    assert PriceItem.objects.get().unit_price_minor == 42_000
    assert profile.terms == "Plain terms."
    assert profile.set_up_at is not None
    assert browser.get("/today/").status_code == 200


def test_the_person_that_the_first_start_made_gets_a_name(
    browser: Browser, owner: Person
) -> None:
    answer(browser, "who")

    owner.refresh_from_db()
    assert owner.name == "Ada Vane"


@pytest.mark.parametrize("slug", list(ANSWERS))
def test_each_step_opens_and_can_wait(browser: Browser, slug: str) -> None:
    page = browser.get(step(slug)).content.decode()

    assert "Leave this for later" in page
    assert browser.post("/first-run/finish/")["Location"] == step("ready")
    assert StudioProfile.load().set_up_at is not None
    assert "Left for later" in browser.get(step("ready")).content.decode()


def test_the_first_run_goes_on_at_the_first_open_step(browser: Browser) -> None:
    answer(browser, "who")
    answer(browser, "where")

    assert browser.get("/first-run/")["Location"] == step("money")


@pytest.mark.parametrize(
    ("slug", "changes", "said"),
    [
        ("who", {"trading_name": ""}, "Fill in “Name of the studio”."),
        ("who", {"phone": "none"}, "Write a phone number in figures"),
        ("money", {"tax_registered": "yes"}, "Write your VAT number"),
        ("money", {"sort_code": "12"}, "A sort code has 6 digits"),
        ("money", {"account_number": "123"}, "An account number has 8 digits"),
        ("money", {"account_number": ""}, "Write the number that goes with it."),
        # One digit of the IBAN of SWIFT's registry for the United Kingdom is changed.
        (
            "money",
            {"iban": "GB29NWBK60161331926818"},
            "A sign of this IBAN seems wrong",
        ),
        ("money", {"bic": "ABC"}, "A BIC has 8 or 11 signs"),
        ("money", {"deposit": "a lot"}, "Write the amount in figures"),
        (
            "money",
            {"deposit": "120", "deposit_kind": "PERCENT"},
            "Write a percentage from 0 to 100.",
        ),
        ("where", {"position": "nowhere"}, "such as 54.47, -0.62, or a link to a map."),
        ("where", {"home_name": ""}, "Give the place a name."),
        ("prices", {"price_1": ""}, "Write its price."),
        ("prices", {"what_2": "", "price_2": "9"}, "Say what costs that."),
        ("public", {"public_address": "not an address"}, "Enter a valid URL"),
        ("public", {"backup_dir": "here"}, "Give the whole path"),
    ],
)
def test_what_cannot_be_stands_beside_its_field_and_nothing_is_lost(
    browser: Browser, slug: str, changes: dict[str, str], said: str
) -> None:
    page = answer(browser, slug, **changes)

    text = page.content.decode()
    assert page.status_code == 422
    _, typed = next(iter(changes.items()))
    assert text.count(said) == 2  # in the list of what is wrong, and beside its field
    others = {"where": "The studio", "prices": "Plain terms.", "who": "Ada Vane"}
    assert others.get(slug, typed) in text
    assert not JournalEntry.objects.exists()


def test_a_vat_number_is_kept_while_the_studio_charges_none(browser: Browser) -> None:
    profile = make_profile(tax_number="GB 000 0000 00", tax_registered=True)
    answer(browser, "money", tax_number="")

    profile.refresh_from_db()
    assert (profile.tax_registered, profile.tax_number) == (False, "GB 000 0000 00")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        # 420.00 holds 420 x 20 / 120 = 70.00; with it on top, 84.00 (arithmetic).
        (
            {
                "tax_registered": "yes",
                "tax_rate": "20",
                "list_prices_include_tax": "on",
            },
            "£420.00, VAT of £70.00 is in it.",
        ),
        (
            {"tax_registered": "yes", "tax_rate": "20"},
            "£504.00, VAT of £84.00 is in it.",
        ),
        ({"tax_registered": "no", "tax_rate": "20"}, "£420.00, no VAT in it."),
        ({"tax_registered": "yes", "tax_rate": "Infinity"}, "£420.00, no VAT in it."),
        ({"tax_registered": "yes", "tax_rate": "1e9"}, "£420.00, no VAT in it."),
        (
            {
                "tax_registered": "yes",
                "tax_rate": "19",
                "tax_name": "MwSt <b>",
                "currency": "EUR",
            },
            "€499.80, MwSt &lt;b&gt; of €79.80 is in it.",
        ),
    ],
)
def test_the_page_says_what_a_family_sees(
    browser: Browser, asked: dict[str, str], said: str
) -> None:
    page = browser.get("/first-run/tax-says/", asked)

    assert said in page.content.decode()


def test_three_prices_can_be_put_right_and_taken_back(browser: Browser) -> None:
    answer(browser, "prices", what_2="Portrait", price_2="300")
    answer(browser, "prices", price_1="450", what_2="", price_2="")

    assert [
        (item.name, item.unit_price_minor) for item in PriceItem.objects.offered()
    ] == [("Family session", 45_000)]


def test_moving_the_home_place_moves_the_kept_place(browser: Browser) -> None:
    answer(browser, "where")
    place = Place.objects.get()
    # 69.65 N, 18.96 E is Tromsø: the clock of Oslo (tzdata).
    moved = WHERE | {"place": place.pk, "position": "69.65, 18.96"}
    browser.post(step("where"), moved)

    assert Place.objects.get().time_zone == "Europe/Oslo"
    assert StudioProfile.load().time_zone == "Europe/Oslo"


def test_an_owner_can_send_themselves_a_quote_once_begun_twice(
    browser: Browser,
) -> None:
    for slug in ANSWERS:
        answer(browser, slug)
    assert "Send yourself a quote" in browser.get(step("ready")).content.decode()

    first = browser.post("/quotes/to-yourself/")
    again = browser.post("/quotes/to-yourself/")

    quote = Quote.objects.get()
    assert first["Location"] == again["Location"] == quote.get_absolute_url()
    assert Job.objects.get().client.email == "ada@vane.example"
    assert quote.content().totals().gross == 420
