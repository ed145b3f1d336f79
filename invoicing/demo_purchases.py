"""What the demo's studio bought and drove over its last hundred days."""

from __future__ import annotations

import io
from datetime import datetime
from decimal import Decimal
from functools import partial
from typing import Any, Final, NamedTuple

from PIL import Image, ImageDraw

from invoicing.purchases.models import PaidFrom, PurchaseKind
from invoicing.purchases.operations import keep_receipt, record_purchase
from invoicing.purchases.sums import drive_worth, tax_inside
from studio.demo import Scenery


class Bought(NamedTuple):
    """One purchase of the demo, in days before today."""

    day: int
    supplier: str
    what: str
    kind: PurchaseKind
    gross_minor: int
    rate: int = 2000
    private_percent: int = 0
    paid_from: PaidFrom = PaidFrom.BANK
    is_paid: bool = True
    has_receipt: bool = True


PURCHASES: Final = (
    Bought(
        -104, "Tidewater Mutual", "Kit and liability, a year", PurchaseKind.INSURANCE,
        31_200, rate=0,
    ),
    Bought(
        -92, "Quayside Print Rooms", "Album, 30 pages", PurchaseKind.MATERIALS, 14_880
    ),
    Bought(
        -71, "Halyard Telecom", "Telephone, a quarter", PurchaseKind.OTHER,
        9_000, private_percent=40,
    ),
    Bought(
        -55, "Low Lane Repairs", "Shutter of the second body", PurchaseKind.EQUIPMENT,
        21_600,
    ),
    Bought(
        -34, "Sound Harbour Trust", "Permit for the quay", PurchaseKind.PREMISES,
        4_500, rate=0,
    ),
    Bought(
        -21, "Quayside Print Rooms", "Twelve prints, 30 by 40", PurchaseKind.MATERIALS,
        10_368,
    ),
    Bought(
        -12, "Harbour car park", "Parking, half a day", PurchaseKind.TRAVEL,
        960, paid_from=PaidFrom.OWN, has_receipt=False,
    ),
    Bought(
        -6, "Fern and Fallow", "White board, 1 by 2 m", PurchaseKind.EQUIPMENT,
        5_340, is_paid=False,
    ),
)  # fmt: skip
DRIVES: Final = ((-48, "Studio to the saltpans and back", 184), (-12, "Quay", 62))


def tell_of_purchases(scenery: Scenery) -> None:
    """Let the studio buy and drive."""
    for bought in PURCHASES:
        scenery.then(bought.day, "16:10", partial(_buy, scenery, bought))
    for day, where, tenths in DRIVES:
        scenery.then(day, "18:40", partial(_drive, scenery, where, tenths))


def _buy(scenery: Scenery, bought: Bought, at: datetime) -> None:
    by, day = scenery.rows["maren"], at.date()
    rate = bought.rate
    purchase = record_purchase(
        details={
            "supplier": bought.supplier,
            "what": bought.what,
            "kind": bought.kind,
            "bought_on": day,
            "paid_on": day if bought.is_paid else None,
            "paid_from": bought.paid_from,
            "currency": scenery.rows["profile"].currency,
            "gross_minor": bought.gross_minor,
            "tax_minor": tax_inside(bought.gross_minor, Decimal(rate) / 100),
            "tax_rate_basis_points": rate,
            "private_percent": bought.private_percent,
        },
        by=by,
        at=at,
    )
    if bought.has_receipt:
        keep_receipt(purchase_id=purchase.pk, content=_slip(purchase), by=by, at=at)


def _drive(scenery: Scenery, where: str, tenths: int, at: datetime) -> None:
    rate = scenery.rows["profile"].distance_rate_minor_hundredths
    record_purchase(
        details={
            "supplier": "Own car",
            "what": where,
            "kind": PurchaseKind.MILEAGE,
            "bought_on": at.date(),
            "paid_on": at.date(),
            "paid_from": PaidFrom.OWN,
            "currency": scenery.rows["profile"].currency,
            "gross_minor": drive_worth(tenths, rate),
            "distance_tenths": tenths,
            "distance_rate_minor_hundredths": rate,
        },
        by=scenery.rows["maren"],
        at=at,
    )


def _slip(purchase: Any) -> bytes:
    """Return a small picture of a till slip."""
    slip = Image.new("RGB", (260, 150), "white")
    words = f"{purchase.supplier}\n{purchase.what}\n\nPaid {purchase.gross}"
    ImageDraw.Draw(slip).multiline_text((16, 20), words, fill="black", spacing=8)
    out = io.BytesIO()
    slip.save(out, "PNG")
    return out.getvalue()
