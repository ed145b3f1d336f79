"""The demo's clients and what they asked for. All of it is invented."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from jobs.clients.models import ClientKind
from jobs.clients.operations import ClientDetails
from jobs.jobs.choices import Channel, Source

ORGANISATION: Final = ClientKind.ORGANISATION


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """When and where a job's session is, in days from today by the place's clock.

    `at_sunset` counts the start in minutes from that day's sunset instead.
    """

    days: int
    place: str
    starts: str = "10:00"
    minutes: int = 90
    at_sunset: int | None = None
    crew: tuple[str, ...] = ("maren",)
    kit: tuple[str, ...] = ("body_a", "zoom", "cards")
    setting_up_minutes: int = 30
    weather: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """One client's job: what was asked when, the session, the day of the pictures."""

    client: ClientDetails
    title: str
    wish: str
    source: Source
    enquired: int
    came_in: Channel = Channel.MAIL
    clock: str = "09:10"
    wished: int | None = None
    session: Session | None = None
    delivered: int | None = None


STORIES: Final[dict[str, Story]] = {
    "kestle": Story(
        client=ClientDetails(
            name="Kestle and Dray, joiners",
            kind=ORGANISATION,
            contact_name="Wilf Dray",
            email="office@kestleanddray.example",
            phone="01632 960151",
            address="Unit 4, Ropewalk\nWrayhaven ZZ9 3ZQ",
        ),
        title="Workshop portraits",
        wish="Six people at their benches, for the new web pages.",
        source=Source.RECOMMENDED,
        enquired=-97,
        session=Session(days=-76, place="studio", starts="09:30", minutes=180),
        delivered=-64,
    ),
    "lowmoor": Story(
        client=ClientDetails(
            name="Isolde Lowmoor",
            email="isolde@lowmoor.example",
            phone="01632 960152",
            address="17 Links Road\nWrayhaven ZZ9 4ZX",
        ),
        title="Lowmoor family on the beach",
        wish="Two adults, three children from 2 to 9, the dog if he behaves.",
        source=Source.WEB_PAGE,
        enquired=-90,
        session=Session(days=-67, place="beach", starts="10:00"),
        delivered=-53,
    ),
    "skerry": Story(
        client=ClientDetails(
            name="Skerry Row boat club",
            kind=ORGANISATION,
            contact_name="Hesper Lund",
            email="hesper@skerryrow.example",
            phone="01632 960153",
            address="Boathouse, the Mole\nWrayhaven ZZ9 3ZP",
        ),
        title="Crew portraits at the boathouse",
        wish="Eleven rowers one by one, and one picture of all.",
        source=Source.SEEN,
        came_in=Channel.PHONE,
        enquired=-62,
        session=Session(
            days=-41,
            place="harbour",
            starts="09:00",
            minutes=240,
            crew=("maren", "jory"),
            kit=("body_a", "body_b", "zoom", "portrait", "white", "cards"),
        ),
        delivered=-24,
    ),
    "marrick": Story(
        client=ClientDetails(
            name="Oswin and Petronel Marrick",
            email="petronel@marrick.example",
            phone="01632 960154",
            address="2 Chapel Rise\nWrayhaven ZZ9 5ZT",
        ),
        title="Marrick golden wedding",
        wish="Fourteen people of three generations, somewhere dry.",
        source=Source.RECOMMENDED,
        enquired=-58,
        session=Session(days=-38, place="studio", starts="13:30", minutes=120),
        delivered=-26,
    ),
    "sandlo": Story(
        client=ClientDetails(
            name="Sandlo Forlag",
            kind=ORGANISATION,
            contact_name="Signy Sandlo",
            email="signy@sandlo.example",
            phone="01632 960199",
            address="Naustet 2\n0000 Sandlo",
            country="NO",
            tax_number="NO 000 000 000 MVA",
        ),
        title="A translator’s portrait",
        wish="For the back of a novel, black and white, by the end of the month.",
        source=Source.WEB_PAGE,
        enquired=-52,
        session=Session(days=-44, place="studio", starts="11:00", minutes=60),
        delivered=-37,
    ),
    "brandreth": Story(
        client=ClientDetails(
            name="Thessaly Brandreth",
            email="thessaly@brandreth.example",
            phone="01632 960155",
            address="9 Quay Lane\nWrayhaven ZZ9 3ZY",
        ),
        title="Brandreth and Aske, engaged",
        wish="At the harbour, an hour before sunset, nothing stiff.",
        source=Source.WEB_PAGE,
        enquired=-48,
        session=Session(days=-23, place="harbour", at_sunset=-75, minutes=75),
        delivered=-11,
    ),
    "vey": Story(
        client=ClientDetails(
            name="Corvin Vey",
            email="corvin@vey.example",
            phone="01632 960156",
        ),
        title="Headshots for a website",
        wish="Two looks, plain grounds, needed within a fortnight.",
        source=Source.WEB_PAGE,
        enquired=-36,
        session=Session(days=-20, place="studio", starts="16:00", minutes=60),
        delivered=-13,
    ),
    "tidehook": Story(
        client=ClientDetails(
            name="Tidehook Bakery",
            kind=ORGANISATION,
            contact_name="Brannoc Hale",
            email="brannoc@tidehook.example",
            phone="01632 960157",
            address="41 Foregate\nWrayhaven ZZ9 3ZB",
        ),
        title="Bakery team at dawn",
        wish="Four bakers, the oven, and the queue outside at seven.",
        source=Source.SEEN,
        came_in=Channel.PHONE,
        enquired=-34,
        session=Session(
            days=-5,
            place="studio",
            starts="06:30",
            minutes=150,
            kit=("body_a", "zoom", "rain", "cards"),
        ),
    ),
    "brass": Story(
        client=ClientDetails(
            name="Saltpan Brass",
            kind=ORGANISATION,
            contact_name="Corin Vayle",
            email="corin@saltpanbrass.example",
            phone="01632 960158",
            address="The Old Saltworks\nWrayhaven ZZ9 3ZL",
        ),
        title="Saltpan Brass, press portraits",
        wish="Five players with instruments, water and evening light behind them.",
        source=Source.RECOMMENDED,
        enquired=-31,
        wished=2,
        session=Session(
            days=2,
            place="harbour",
            at_sunset=-130,
            minutes=180,
            crew=("maren", "jory"),
            kit=(
                "body_a",
                "body_b",
                "zoom",
                "portrait",
                "long",
                "flash",
                "softbox",
                "speedlight",
                "stand_a",
                "stand_b",
                "tripod",
                "white",
                "gels",
                "cards",
            ),
            setting_up_minutes=45,
            weather="Decided at noon that day; Maren rings Corin",
        ),
    ),
    "osgarth": Story(
        client=ClientDetails(
            name="Linnet Osgarth",
            email="linnet@osgarth.example",
            phone="01632 960159",
        ),
        title="Osgarth reunion",
        wish="Thirty people on a lawn, one Saturday in the holidays.",
        source=Source.WEB_PAGE,
        enquired=-27,
    ),
    "aldwinter": Story(
        client=ClientDetails(
            name="Nerys Aldwinter",
            email="nerys@aldwinter.example",
            phone="01632 960160",
            address="5 Lantern Steps\nWrayhaven ZZ9 3ZD",
        ),
        title="Author portrait for a book jacket",
        wish="Serious but not grim. The publisher wants it upright, dark ground.",
        source=Source.RECOMMENDED,
        enquired=-21,
        session=Session(
            days=0,
            place="studio",
            starts="14:00",
            kit=("body_a", "portrait", "speedlight", "stand_b", "black", "tripod"),
        ),
    ),
    "tarrant": Story(
        client=ClientDetails(
            name="Ambrose and Leda Tarrant",
            email="leda@tarrant.example",
            phone="01632 960161",
            address="28 Ropewalk\nWrayhaven ZZ9 3ZQ",
        ),
        title="Tarrant newborn",
        wish="Ten days old by then. Warm room, no flash please.",
        source=Source.WEB_PAGE,
        enquired=-15,
        session=Session(
            days=6,
            place="studio",
            starts="10:30",
            minutes=150,
            kit=("body_a", "zoom", "flash", "softbox", "stand_a", "cards"),
        ),
    ),
    "fenwarren": Story(
        client=ClientDetails(
            name="Oriel Fenwarren",
            email="oriel@fenwarren.example",
            phone="01632 960162",
            address="Mill Cottage, Hollin Lane\nnear Wrayhaven ZZ9 6ZW",
        ),
        title="Fenwarren family in the wood",
        wish="Grandparents, parents, two boys. Leaves if there are any left.",
        source=Source.WEB_PAGE,
        enquired=-10,
        wished=16,
        session=Session(
            days=16,
            place="wood",
            starts="11:00",
            kit=("body_a", "zoom", "speedlight", "white", "cards"),
        ),
    ),
    "pell": Story(
        client=ClientDetails(
            name="Mirren Pell",
            email="mirren@pell.example",
            phone="01632 960163",
            address="6 Dune Terrace\nWrayhaven ZZ9 4ZR",
        ),
        title="Pell family on the beach",
        wish="Just us four and the kites.",
        source=Source.WEB_PAGE,
        enquired=-7,
        wished=9,
        session=Session(
            days=9,
            place="beach",
            at_sunset=-110,
            kit=("body_b", "long", "rain", "cards"),
        ),
    ),
    "garrowby": Story(
        client=ClientDetails(
            name="Ilse Garrowby",
            email="ilse@garrowby.example",
            phone="01632 960164",
        ),
        title="Garrowby family session",
        wish="Two parents and a girl of four who runs. Perhaps at the harbour?",
        source=Source.WEB_PAGE,
        enquired=-6,
        clock="19:40",
        wished=20,
    ),
    "hartsop": Story(
        client=ClientDetails(
            name="Edwy and Sunniva Hartsop",
            email="sunniva@hartsop.example",
            phone="01632 960167",
            address="11 Staithe Road\nWrayhaven ZZ9 2ZH",
        ),
        title="Hartsop family on the beach",
        wish="Three generations, seven of us. We are not sure how long we want.",
        source=Source.RECOMMENDED,
        enquired=-5,
        wished=24,
        session=Session(
            days=24,
            place="beach",
            at_sunset=-120,
            kit=("body_a", "zoom", "white", "cards"),
        ),
    ),
    "choir": Story(
        client=ClientDetails(
            name="Rook Lane Choir",
            kind=ORGANISATION,
            contact_name="Dinah Sorrel",
            email="dinah@rooklanechoir.example",
            phone="01632 960165",
            address="Rook Lane Hall\nWrayhaven ZZ9 5ZC",
        ),
        title="Choir portraits and one of all",
        wish="Twenty-two singers on the quay at dusk, when the lamps come on.",
        source=Source.SEEN,
        came_in=Channel.PHONE,
        enquired=-4,
        session=Session(
            days=23,
            place="harbour",
            at_sunset=-40,
            minutes=105,
            crew=("maren", "jory"),
            kit=(
                "body_a",
                "zoom",
                "portrait",
                "flash",
                "softbox",
                "speedlight",
                "tripod",
                "stand_a",
                "stand_b",
            ),
        ),
    ),
}
