from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from invoicing.quotes.documents import print_quote
from invoicing.quotes.models import Quote
from invoicing.quotes.priced import counted
from invoicing.quotes.printed import printed_quote
from jobs.clients.models import ClientKind
from jobs.jobs.models import Job
from studio.profile.models import StudioProfile
from tests.make import NOON, make_booking, make_client, make_job, make_place
from tests.make_quotes import PRINT, SESSION, TERMS, sent_quote

pytestmark = pytest.mark.django_db


def pages_of(quote: Quote) -> list[str]:
    assert quote.paper is not None
    pages = PdfReader(BytesIO(bytes(quote.paper.content))).pages
    return [" ".join(page.extract_text().split()) for page in pages]


def test_the_paper_says_all_that_was_quoted() -> None:
    terms = replace(TERMS, opening_note="We meet at three.", included="A call\nA proof")
    quote = sent_quote(terms=terms)

    words = " ".join(pages_of(quote))

    for said in (
        "Quote",
        f"{quote.number}, version 1",
        "Vane Portraits",
        "Meyer Bakery",
        "Date of quote Sunday 21 June 2026",
        "Price holds until Sunday 5 July 2026",
        "North beach",
        "We meet at three.",
        "Family session 1 session £420.00 £420.00",
        "VAT of £70.00 is in it. Nothing comes on top.",
        "£100.00 makes the date firm.",
        f"quoting {quote.number}",
        "The rest, £320.00, is due 14 days after its invoice",
        "One framed print + £95.00",
        "A call A proof",
        "Acceptance: open your private page",
        "Signature",
        "The plain terms of the studio.",
        "VAT no. GB 000 0000 00",
    ):
        assert said in words


def test_an_organisations_paper_shows_the_tax_apart() -> None:
    client = make_client("Saltpan Brass", kind=ClientKind.ORGANISATION)
    words = " ".join(pages_of(sent_quote(make_job(client=client))))

    assert "Before VAT £420.00" in words
    assert "VAT at 20% £84.00" in words
    assert "Total £504.00" in words
    assert "is in it" not in words


def test_equal_quotes_give_equal_bytes() -> None:
    quote = sent_quote()

    first, second = (
        print_quote(printed_quote(Quote.objects.get(pk=quote.pk).snapshot or {}))
        for _ in range(2)
    )

    assert first == second
    assert quote.paper is not None
    assert first == bytes(quote.paper.content)


def test_forty_lines_and_hostile_names_are_printed_over_two_pages() -> None:
    client = make_client('<img src="file:///etc/passwd"/> & Söhne')
    lines = tuple(
        replace(SESSION, description=f"Πορτρέτο Анна {n}", unit_price_minor=1_000)
        for n in range(40)
    )
    pages = pages_of(sent_quote(make_job("Ugly", client=client), lines=lines))

    words = " ".join(pages)
    assert len(pages) >= 2
    assert '<img src="file:///etc/passwd"/> & Söhne' in words
    for number in range(40):
        assert f"Πορτρέτο Анна {number} " in words
    assert pages[0].count("Quantity") == 1
    assert pages[1].count("Quantity") == 1
    assert "Total £400.00" in words


def test_a_place_of_three_hundred_letters_and_a_night_without_night() -> None:
    job = make_job("Midsummer")
    place = make_place(
        "Far " + "x" * 296,
        latitude_deg=69.65,
        longitude_deg=18.96,
        time_zone="Europe/Oslo",
    )
    make_booking(job=job, place=place, starts_at=NOON.replace(hour=20), hours=6)

    words = " ".join(pages_of(sent_quote(job)))

    assert "the sun does not set that day" in words
    assert "22:00–04:00 on Monday" in words


def test_without_a_date_the_paper_names_none() -> None:
    words = " ".join(pages_of(sent_quote(with_session=False)))

    assert "your session" not in words
    assert "Pay the deposit of £100.00 within 7 days of your yes" in words


def test_without_a_page_the_paper_does_not_speak_of_one() -> None:
    job: Job = make_job()
    StudioProfile.load()
    quote = sent_quote(job, lines=(SESSION, PRINT))
    snapshot = {**(quote.snapshot or {}), "has_page": False}

    words = PdfReader(BytesIO(print_quote(printed_quote(snapshot)))).pages[0]

    assert "private page" not in words.extract_text()


@pytest.mark.parametrize(
    ("quantity", "unit", "said"),
    [
        ("1", "session", "1 session"),
        ("8", "picture", "8 pictures"),
        ("2.5", "hour", "2.5 hours"),
        ("8", "each", "8"),
        ("3", "", "3"),
        ("2", "person", "2 people"),
        ("2", "Stück", "2 Stück"),
    ],
)
def test_units_are_counted_as_people_say_them(
    quantity: str, unit: str, said: str
) -> None:
    assert counted(Decimal(quantity), unit) == said
