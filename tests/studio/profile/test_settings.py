import pytest
from django.test import Client as Browser

from studio.history.models import JournalEntry
from studio.profile.models import StudioProfile
from studio.profile.numbers import NumberError, read_iban, read_tax_number
from studio.profile.patterns import PatternError, check_pattern
from studio.sections import kept_sections
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db

NUMBERS = {
    "quote_pattern": "Q-{year}-{place:03d}",
    "job_pattern": "J-{year}-{place:03d}",
    "invoice_pattern": "{year}-{place:04d}",
    "credit_note_pattern": "CN-{year}-{place:03d}",
}


@pytest.fixture
def browser() -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person())
    return browser


def test_settings_lead_to_every_section_and_each_opens(browser: Browser) -> None:
    page = browser.get("/settings/").content.decode()

    for section in kept_sections():
        assert f'href="/settings/{section.slug}/"' in page
        assert browser.get(f"/settings/{section.slug}/").status_code == 200
    assert browser.get("/settings/none-such/").status_code == 404


def test_a_change_is_noted_by_the_names_of_its_fields_only(browser: Browser) -> None:
    ways = {
        "reply_days": "2",
        "quote_days": "14",
        "deposit_days": "7",
        "payment_days": "30",
        "pictures_days": "21",
        "acceptance_confirms": "yes",
    }
    browser.post("/settings/ways/", ways)

    profile = StudioProfile.load()
    assert (profile.payment_days, profile.acceptance_confirms) == (30, True)
    entry = JournalEntry.objects.get()
    assert entry.data == {
        "fields": ["acceptance_confirms", "payment_days", "reply_days"]
    }


def test_words_are_offered_for_what_is_empty_and_kept_only_on_saving(
    browser: Browser,
) -> None:
    page = browser.get("/settings/words/").content.decode()

    assert "Words to start from" in page
    assert "somebody who knows the law" in page
    browser.post("/settings/words/", {"terms": "Ours.", "wear_words": "Wool."})
    profile = StudioProfile.load()
    assert (profile.terms, profile.wear_words) == ("Ours.", "Wool.")
    assert profile.withdrawal_words == ""


@pytest.mark.parametrize(
    "pattern",
    [
        "{place}",
        "{year}",
        "{year}{place}",
        "{year}1{place}",
        "{year}-{place}-{place}",
        "{year}/{place}",
        "{year.__class__}-{place}",
        "{year}-{place:09999d}",
        "{year}-{place",
        "2027-{0}",
        "Q" * 30 + "{year}-{place}",
    ],
)
def test_a_pattern_that_gives_no_usable_numbers_is_refused(pattern: str) -> None:
    with pytest.raises(PatternError):
        check_pattern(pattern)


def test_a_pattern_may_turn_year_and_place_round() -> None:
    assert check_pattern("R{place:05d}-{year}") == "R00018-2027"


def test_two_series_that_look_alike_are_refused(browser: Browser) -> None:
    page = browser.post(
        "/settings/numbers/", NUMBERS | {"job_pattern": "Q-{year}-{place:03d}"}
    )

    assert "one number could mean either" in page.content.decode()
    assert StudioProfile.load().job_pattern == "J-{year}-{place:03d}"


def test_the_usual_patterns_are_fit(browser: Browser) -> None:
    assert browser.post("/settings/numbers/", NUMBERS).status_code == 302


def test_an_iban_is_held_against_its_check_digits() -> None:
    # The example of the United Kingdom in SWIFT's IBAN registry.
    assert read_iban("gb29nwbk60161331926819") == "GB29 NWBK 6016 1331 9268 19"
    with pytest.raises(NumberError):
        read_iban("GB29 NWBK 6016 1331 9268 18")


def test_a_vat_number_is_held_against_the_rule_of_its_country() -> None:
    # Check digits of a German number by ISO 7064 mod 11, 10, from the documentation
    # of python-stdnum; a country without a known rule is taken as typed.
    assert read_tax_number("de 136,695 976".replace(",", "")) == "DE 136695 976"
    with pytest.raises(NumberError):
        read_tax_number("DE136695978")
    assert read_tax_number("XX 12") == "XX 12"


def test_words_for_tax_and_ways_to_pay_are_kept(browser: Browser) -> None:
    answer = browser.post(
        "/settings/invoices/",
        {
            "zero_words": "Zero-rated.",
            "exempt_words": "Exempt by section 1.",
            "reverse_words": "Reverse charge.",
            "export_words": "Export.",
            "outside_words": "Outside.",
            "untaxed_category": "Z",
            "simplified_limit": "250",
            "prints_payment_code": "on",
        },
    )

    assert answer.status_code == 302
    profile = StudioProfile.load()
    assert profile.exempt_words == "Exempt by section 1."
    assert (profile.untaxed_category, profile.simplified_limit_minor) == ("Z", 25_000)
    assert profile.prints_payment_code
    assert not profile.prints_creditor_reference


def test_a_studio_outside_of_tax_is_asked_for_what_concerns_it(
    browser: Browser,
) -> None:
    StudioProfile.objects.update(tax_registered=False)

    page = browser.get("/settings/invoices/").content.decode()
    answer = browser.post(
        "/settings/invoices/",
        {"unregistered_category": "E", "unregistered_words": "Small business."},
    )

    assert "Reverse charge" not in page
    assert "Write the number: data names it." in answer.content.decode()
    assert StudioProfile.load().reverse_words.startswith("Reverse charge")


def test_a_country_is_chosen_from_the_list(browser: Browser) -> None:
    who = {"trading_name": "Vane", "owner_name": "Ada Vane", "address": "2 Quay Row"}

    refused = browser.post("/settings/who/", who | {"country": "ZZ"})
    browser.post("/settings/who/", who | {"country": "IE"})

    assert refused.status_code == 422
    assert StudioProfile.load().country == "IE"
