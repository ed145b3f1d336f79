"""The demo's price list and what each job was quoted. All of it is invented."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from invoicing.prices.models import PriceKind
from invoicing.quotes.models import How
from jobs.jobs.choices import LostReason

PRICES: Final[dict[str, dict[str, Any]]] = {
    "family": {
        "kind": PriceKind.ITEM,
        "name": "Family session, 90 minutes",
        "detail": "One place, up to six people, twenty finished pictures",
        "unit": "session",
        "unit_price_minor": 42_000,
    },
    "portrait": {
        "name": "Portrait, one hour",
        "detail": "Two looks, six finished pictures",
        "unit": "session",
        "unit_price_minor": 30_000,
    },
    "group": {
        "name": "Press or company portraits, half a day",
        "detail": "Up to six people, one place, assistant and light",
        "unit": "session",
        "unit_price_minor": 72_000,
        "cost_minor": 14_000,
    },
    "person": {
        "name": "Each further person",
        "unit": "person",
        "unit_price_minor": 4_800,
    },
    "hour": {
        "kind": PriceKind.HOUR,
        "name": "Extra hour",
        "unit": "hour",
        "unit_price_minor": 12_000,
        "cost_minor": 1_800,
    },
    "pictures": {
        "name": "Ten more finished pictures",
        "unit": "set",
        "unit_price_minor": 9_000,
        "is_extra": True,
    },
    "print": {
        "kind": PriceKind.PRINT,
        "name": "Framed print, 40 × 50 cm",
        "detail": "Ash frame, ready to hang",
        "unit": "print",
        "unit_price_minor": 13_500,
        "cost_minor": 5_200,
        "is_extra": True,
    },
    "album": {
        "name": "Album, 20 pages",
        "detail": "Linen, twenty pictures of your choice",
        "unit": "album",
        "unit_price_minor": 24_000,
        "cost_minor": 9_500,
    },
    "afternoon": {
        "kind": PriceKind.PACKAGE,
        "name": "An afternoon",
        "detail": "One place, up to eight people",
        "unit": "session",
        "unit_price_minor": 49_500,
    },
    "day": {
        "kind": PriceKind.PACKAGE,
        "name": "An afternoon, with the album",
        "detail": "Two places, up to eight people",
        "unit": "session",
        "unit_price_minor": 79_500,
    },
    "near": {
        "kind": PriceKind.TRAVEL,
        "name": "Travel, near",
        "unit": "journey",
        "unit_price_minor": 0,
        "up_to_distance": 10,
    },
    "far": {
        "kind": PriceKind.TRAVEL,
        "name": "Travel, further",
        "unit": "journey",
        "unit_price_minor": 3_000,
        "cost_minor": 1_350,
        "up_to_distance": 40,
    },
    "mile": {
        "kind": PriceKind.TRAVEL,
        "name": "Travel by the mile",
        "unit": "mile",
        "unit_price_minor": 60,
        "cost_minor": 45,
    },
    "brochure": {
        "kind": PriceKind.LICENCE,
        "name": "Website and brochure use",
        "unit": "licence",
        "unit_price_minor": 18_000,
        "licence_who": "The client",
        "licence_where": "own website and brochure, UK",
        "licence_months": 24,
    },
}
PARTS: Final[dict[str, tuple[tuple[str, int], ...]]] = {
    "afternoon": (("family", 1), ("pictures", 1)),
    "day": (("family", 1), ("pictures", 2), ("album", 1), ("hour", 1)),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Deal:
    """One job's quote and its money, in days from today.

    `lines` name prices and quantities, `extras` what the client may tick and `ticked`
    what they did; `packages` are offered to choose one of. `staged` tells on which day
    a percentage of the price was invoiced ahead of the rest, and what for. `paid` gives
    the days on which the last invoice was paid, each with the percentage of it.
    """

    lines: tuple[tuple[str, int], ...]
    quoted: int
    packages: tuple[str, ...] = ()
    holds: int = 14
    minutes: int = 0
    declined: int | None = None
    reason: str = ""
    words: str = ""
    extras: tuple[str, ...] = ()
    ticked: tuple[str, ...] = ()
    by: str = "maren"
    is_sent: bool = True
    opened: tuple[int, ...] = ()
    said: int | None = None
    how: How = How.PAGE
    signed: str = ""
    shows: bool = False
    deposit_percent: int = 25
    deposit_paid: int | None = None
    payment_days: int = 14
    discount_percent: int = 0
    discount_reason: str = ""
    note: str = ""
    included: str = ""
    staged: tuple[int, int, str] | None = None
    invoiced: int | None = None
    credited: int | None = None
    lost: int | None = None
    paid: tuple[tuple[int, int], ...] = ()
    treatment: str = ""


_FAMILY: Final = (
    "Ninety minutes in one place\n"
    "Twenty finished pictures in full size\n"
    "A private page to show to the family"
)

DEALS: Final[dict[str, Deal]] = {
    "kestle": Deal(
        lines=(("group", 1), ("hour", 1)),
        quoted=-94,
        said=-91,
        how=How.EMAIL,
        signed="Wilf Dray",
        shows=True,
        deposit_percent=0,
        invoiced=-62,
    ),
    "lowmoor": Deal(
        lines=(("family", 1),),
        extras=("print", "pictures"),
        ticked=("print",),
        quoted=-88,
        opened=(-87,),
        said=-85,
        signed="Isolde Lowmoor",
        deposit_paid=-82,
        included=_FAMILY,
        invoiced=-52,
        paid=((-43, 100),),
    ),
    "skerry": Deal(
        lines=(("group", 1), ("person", 6), ("hour", 2)),
        quoted=-59,
        said=-56,
        how=How.PAPER,
        signed="Hesper Lund, for the club",
        deposit_percent=0,
        payment_days=30,
        discount_percent=10,
        discount_reason="the whole club at once",
        invoiced=-22,
        credited=-20,
    ),
    "marrick": Deal(
        lines=(("family", 1), ("person", 8)),
        extras=("print",),
        ticked=("print",),
        quoted=-56,
        opened=(-55,),
        said=-54,
        signed="Petronel Marrick",
        shows=True,
        deposit_paid=-51,
        included=_FAMILY,
        invoiced=-24,
    ),
    "sandlo": Deal(
        lines=(("portrait", 1),),
        quoted=-51,
        said=-50,
        how=How.EMAIL,
        signed="Signy Sandlo",
        deposit_percent=0,
        payment_days=30,
        treatment="G",
        invoiced=-36,
        paid=((-12, 94),),
        lost=-10,
    ),
    "brandreth": Deal(
        lines=(("family", 1),),
        extras=("pictures", "print"),
        ticked=("pictures",),
        quoted=-46,
        opened=(-46, -45),
        said=-44,
        signed="Thessaly Brandreth",
        deposit_paid=-42,
        included=_FAMILY,
        invoiced=-9,
        paid=((-3, 50),),
    ),
    "vey": Deal(
        lines=(("portrait", 1),),
        quoted=-34,
        said=-32,
        how=How.PHONE,
        signed="Corvin Vey",
        deposit_percent=0,
        invoiced=-11,
    ),
    "osgarth": Deal(
        lines=(("group", 1), ("person", 24)),
        quoted=-25,
        opened=(-25, -24),
        declined=-24,
        reason=LostReason.DATE,
        words="Only that Saturday would do for all thirty of us.",
    ),
    "tidehook": Deal(
        lines=(("group", 1), ("hour", 1), ("brochure", 1)),
        quoted=-31,
        said=-29,
        how=How.EMAIL,
        signed="Brannoc Hale",
        shows=True,
        deposit_paid=-25,
        deposit_percent=20,
        staged=(-4, 40, "The morning at the bakery; the finished pictures follow"),
    ),
    "brass": Deal(
        lines=(("group", 1), ("hour", 1)),
        extras=("pictures",),
        quoted=-28,
        opened=(-27,),
        said=-26,
        signed="Corin Vayle",
        shows=True,
        deposit_paid=-21,
        note=(
            "Five of you, the water behind, and the last hour of light. I bring a "
            "large flash for the dusk, so the sky can stay blue."
        ),
        included=(
            "Three hours at the harbour\n"
            "Twelve finished pictures for press and posters\n"
            "Use in your own press work for three years"
        ),
    ),
    "aldwinter": Deal(
        lines=(("portrait", 1), ("hour", 1)),
        quoted=-19,
        opened=(-19,),
        said=-18,
        signed="Nerys Aldwinter",
        deposit_paid=-15,
    ),
    "tarrant": Deal(
        lines=(("family", 1), ("hour", 1)),
        extras=("print", "pictures"),
        ticked=("pictures",),
        quoted=-14,
        opened=(-14,),
        said=-13,
        signed="Leda Tarrant",
        deposit_paid=-11,
        included=_FAMILY,
    ),
    "fenwarren": Deal(
        lines=(("family", 1),),
        extras=("print", "pictures"),
        quoted=-8,
        holds=11,
        opened=(-8, -6),
        note="The clearing is best before noon, while the sun still comes over it.",
        included=_FAMILY,
    ),
    "pell": Deal(
        lines=(("family", 1),),
        extras=("print", "pictures"),
        ticked=("print",),
        quoted=-5,
        opened=(-5, -3),
        said=-2,
        signed="Mirren Pell",
        note="An hour before sunset the sand is warm and the kites stand well.",
        included=_FAMILY,
    ),
    "hartsop": Deal(
        lines=(),
        packages=("afternoon", "day"),
        extras=("print", "hour"),
        quoted=-3,
        holds=9,
        minutes=9 * 60,
        opened=(-3, -2),
        note=(
            "The sand is widest two hours before sunset, and the dunes give shelter "
            "if the wind is up. Both ways have everybody together first."
        ),
    ),
    "choir": Deal(
        lines=(("group", 1), ("person", 16), ("hour", 1)),
        quoted=-2,
        by="jory",
        is_sent=False,
        deposit_percent=20,
        payment_days=30,
    ),
}
