"""Invoices to print as fast as can be: a year's worth of a portrait studio's."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.printed import PrintedInvoice, printed_invoice
from invoicing.invoices.snapshots import totals_json
from studio.pdf import lines
from studio.pdf.faces import chain
from studio.pdf.fonts import typeface
from studio.scene.drawing import Weight

SELLER: Final = {
    "trading_name": "Vane Portraits",
    "owner_name": "Ada Vane",
    "address": "2 Quay Row\nSandhaven",
    "country": "GB",
    "phone": "01632 960001",
    "email": "ada@vane.example",
    "tax_registered": True,
    "tax_name": "VAT",
    "account_name": "Ada Vane",
    "sort_code": "00-00-00",
    "account_number": "00000000",
    "iban": "",
    "bic": "",
    "tax_number": "GB 000 0000 00",
    "registration_number": "",
}
NAMES: Final = ("Meyer Bakery", "Tidewater Quartet", "Zoë Fettle", "Piers Garrick")
JOBS: Final = ("Shop portraits", "Press portraits", "Family by the river", "Newborn")
WORK: Final = (
    ("Portrait session", "Two hours on location, with one helper", "hours", 2000),
    ("Retouched photographs", "", "pictures", 2000),
    ("Album, linen, 30 pages", "Names stamped on the cover", "", 500),
    ("Prints 20 × 30 cm", "Cotton paper", "prints", 2000),
    ("Use on the web", "For two years, worldwide", "", 2000),
    ("Mileage", "", "miles", 0),
)
WEIGHTS: Final[tuple[Weight, ...]] = (400, 600, 700)
FIRST_ON: Final = date(2026, 1, 5)


def forget() -> None:
    """Drop the words kept from earlier papers; the typefaces themselves stay."""
    lines._kept.cache_clear()
    for weight in WEIGHTS:
        typeface(weight)._length.cache_clear()
        for font in chain(weight):
            font.coded.cache_clear()


def papers(count: int) -> list[PrintedInvoice]:
    """Return so many invoices of one to twelve lines, each on one page."""
    return [_paper(place) for place in range(count)]


def _paper(place: int) -> PrintedInvoice:
    content = Content(
        currency="GBP",
        price_basis="gross",
        lines=_lines(place, 1 + place % 12),
        discount_percent_hundredths=500 * (place % 3),
        reference=f"Q-2026-{place:03}" if place % 2 else "",
    )
    day = FIRST_ON + timedelta(days=place)
    name = NAMES[place % len(NAMES)]
    return printed_invoice(
        {
            "format": 2,
            "series": "INVOICE",
            "purpose": "BALANCE",
            "number": f"2026-{place + 1:04}",
            "issued_on": day.isoformat(),
            "due_on": (day + timedelta(days=14)).isoformat(),
            "tax_point_on": (day - timedelta(days=place % 4)).isoformat(),
            "seller": SELLER,
            "buyer": {
                "name": name,
                "contact_name": "Jo Meyer" if place % 3 == 0 else "",
                "address": f"{place + 1} Mill Street\nSandhaven",
                "country": "GB",
                "tax_number": "GB 000 0000 00" if place % 5 == 0 else "",
            },
            "job": {
                "number": f"J-2026-{place:03}",
                "title": JOBS[place % len(JOBS)],
            },
            "content": content.to_json(),
            "totals": totals_json(content.totals()),
            "note": "Thank you for the good day." if place % 3 else "",
            "corrects": None,
        }
    )


def _lines(place: int, count: int) -> tuple[ContentLine, ...]:
    """Return lines, with details where they leave room for all on one page."""
    full = [_line(place, number) for number in range(count)]
    return tuple(full if count < 8 else [replace(one, detail="") for one in full])


def _line(place: int, number: int) -> ContentLine:
    title, detail, unit, rate = WORK[(place + number) % len(WORK)]
    return ContentLine(
        description=title,
        detail=detail,
        unit=unit,
        quantity_thousandths=1000 * (1 + (place * 7 + number) % 5),
        unit_price_minor=1_250 + 475 * ((place + 3 * number) % 23),
        tax_rate_basis_points=rate,
    )
