"""Lists that are brought in: read, tried out, and all rows or none."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser

from invoicing.prices.models import PriceItem
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.clients.models import Client, ClientKind
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from studio.history.models import JournalEntry
from studio.imports.kinds import kind_of, kinds
from studio.imports.models import SentList
from studio.imports.operations import (
    KEPT_FOR,
    BadRowsError,
    ListGoneError,
    Outcome,
    bring_in,
    keep_list,
    try_out,
)
from studio.imports.rows import guess_matching, read_list
from studio.people.models import Person
from tests.make import NOON, make_client, make_person, make_place, make_profile

pytestmark = pytest.mark.django_db

CLIENTS = """Client;Mobile;E-mail address;Type;Remarks
Thorn family;01632 960101;thorn@home.example;person;"Two dogs,
bring ""treats"" too"
Ballast Ltd;;office@ballast.example;company;
Zoë Ångström;01632 960103;;;'=cmd
"""


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person("Ada")


def sent(slug: str, text: str | bytes, by: Person) -> SentList:
    content = text.encode() if isinstance(text, str) else text
    return keep_list(
        kind=kind_of(slug), name="list.csv", content=content, by=by, at=NOON
    )


def steps(slug: str, one: SentList) -> dict[str, Any]:
    kind = kind_of(slug)
    guess = guess_matching(kind, read_list(bytes(one.content)))
    return {"kind": kind, "matching": guess, "by": one.sent_by, "at": NOON}


def brought(
    slug: str, text: str | bytes, by: Person, *, without_bad: bool = False
) -> Outcome:
    one = sent(slug, text, by)
    return bring_in(list_id=one.pk, without_bad=without_bad, **steps(slug, one))


def counted() -> dict[str, int]:
    models = [model for model in apps.get_models() if model is not SentList]
    return {model._meta.label: model._default_manager.count() for model in models}


def faults(outcome: Outcome) -> list[tuple[int, str]]:
    return [
        (row.place, ": ".join(filter(None, fault)))
        for row in outcome.bad
        for fault in row.faults
    ]


def test_clients_come_in_with_their_columns_matched_by_name(ada: Person) -> None:
    outcome = brought("clients", CLIENTS, ada)

    assert (len(outcome.added), outcome.known, outcome.bad) == (3, [], [])
    thorn, ballast, zoe = Client.objects.order_by("pk")
    # RFC 4180, 2.6 and 2.7: a quoted cell may hold line breaks and doubled quotes.
    assert thorn.notes.splitlines() == ["Two dogs,", 'bring "treats" too']
    assert (thorn.phone, thorn.email) == ("+441632960101", "thorn@home.example")
    assert (ballast.kind, zoe.kind) == (ClientKind.ORGANISATION, ClientKind.PERSON)
    assert zoe.notes == "=cmd"
    assert not SentList.objects.exists()
    assert JournalEntry.objects.filter(verb="list brought in").count() == 1


def test_who_is_there_already_stays_as_it_is(ada: Person) -> None:
    make_client("Thorn", phone="+441632960101")
    make_client("Zoë Ångström", phone="", email="other@zoe.example")

    outcome = brought("clients", CLIENTS, ada)

    assert [place for place, _ in outcome.known] == [1, 3]
    assert Client.objects.get(phone="+441632960101").name == "Thorn"


def test_one_name_with_another_number_is_somebody_else(ada: Person) -> None:
    make_client("Thorn family", phone="+441632960999")

    outcome = brought("clients", CLIENTS, ada)

    assert len(outcome.added) == 3


def test_a_bad_row_at_the_end_keeps_every_row_out(ada: Person) -> None:
    text = "Name,E-mail\nAda,ada@here.example\nBram,nowhere\n,x@y.example\n"
    one = sent("clients", text, ada)
    before = counted()

    with pytest.raises(BadRowsError):
        bring_in(list_id=one.pk, **steps("clients", one))
    tried = try_out(sent=one, **steps("clients", one))

    assert counted() == before
    assert faults(tried) == [
        (2, "E-mail “nowhere”: Enter a valid email address."),
        (3, "Name: Fill in “Name”."),
    ]
    assert len(tried.added) == 1
    outcome = bring_in(list_id=one.pk, **steps("clients", one), without_bad=True)
    assert [str(client) for client in outcome.added] == ["Ada"]


def test_a_list_is_brought_in_once(ada: Person) -> None:
    one = sent("clients", CLIENTS, ada)
    bring_in(list_id=one.pk, **steps("clients", one))

    with pytest.raises(ListGoneError):
        bring_in(list_id=one.pk, **steps("clients", one))

    assert Client.objects.count() == 3


def test_a_row_twice_in_a_list_comes_in_once(ada: Person) -> None:
    outcome = brought(
        "clients", "Name,Phone\nAda,01632 960101\nAda,01632 960101\n", ada
    )

    assert (len(outcome.added), len(outcome.known)) == (1, 1)


def test_prices_are_read_as_they_are_written(ada: Person) -> None:
    text = "Item;Price;VAT;Extra\nSession;£1,320.00;20%;no\nFrame;45.50;;yes\n"

    outcome = brought("prices", text, ada)

    assert outcome.bad == []
    session, frame = PriceItem.objects.order_by("pk")
    assert (session.unit_price_minor, session.is_extra) == (132_000, False)
    assert (frame.unit_price_minor, frame.is_extra) == (4550, True)


def test_kit_comes_with_the_figures_of_its_category(ada: Person) -> None:
    text = (
        "Name,Category,Serial number,Value,Bought on,Focal length,Guide number\n"
        "Short lens,Lens,L-1,420,03/11/2025,35,\n"
        "Lamp,toaster,,,,,\n"
        "Flash,flash,F-1,,31/11/2025,,60\n"
    )

    outcome = brought("kit", text, ada, without_bad=True)

    lens = KitItem.objects.get()
    assert (lens.focal_length_mm, lens.value_minor) == (35.0, 42_000)
    assert lens.bought_on == date(2025, 11, 3)
    told = faults(outcome)
    assert [place for place, _ in told] == [2, 3]
    assert told[0][1].startswith("Category “toaster”: Write one of: camera")
    assert told[1][1].startswith("Bought on “31/11/2025”")


SESSIONS = """Client,Title,Date,From,To,Location,Status
Thorn family,Beach,2026-07-04,15:00,16:30,North beach,confirmed
Ballast Ltd,Staff,2026-07-04,16:00,17:00,north beach,confirmed
Ballast Ltd,Gala,2026-07-05,21:00,01:00,North beach,pencilled
Ballast Ltd,Old,2026-03-05,10:00,11:00,North beach,done
Ballast Ltd,Mast,2026-07-06,10:00,11:00,The moon,confirmed
Ballast Ltd,Gap,2027-03-28,01:30,03:00,North beach,confirmed
"""


def test_sessions_come_with_client_job_and_hold_and_clash_as_others_do(
    ada: Person,
) -> None:
    make_place("North beach", time_zone="Europe/London")
    one = sent("sessions", SESSIONS, ada)
    before = counted()

    tried = try_out(sent=one, **steps("sessions", one))
    assert counted() == before
    outcome = bring_in(list_id=one.pk, **steps("sessions", one), without_bad=True)

    told = faults(outcome)
    assert told == faults(tried)
    assert [place for place, _ in told] == [2, 5, 6]
    assert "Ada" in told[0][1]
    assert told[1][1].startswith("Place “The moon”: No place has this name")
    assert told[2][1].startswith("From “01:30”")
    beach, gala, old = Booking.objects.order_by("pk")
    assert beach.status == BookingStatus.CONFIRMED
    assert (gala.status, gala.ends_at.hour) == (BookingStatus.PENCILLED, 0)
    assert (old.status, old.job.stage) == (BookingStatus.COMPLETED, "SHOT")
    assert Client.objects.count() == 2
    assert Job.objects.count() == 3


@pytest.mark.parametrize(
    "content",
    [
        b"Name,Phone\n" + b"A,1\n" * 1_001,
        b"Name\nAda\n",
        b"",
        b"PK\x03\x04\0\0",
        b'Name,Notes\nAda,"open ' + b"x" * 200_000,
    ],
    ids=["long", "one column", "empty", "no text", "open quotation mark"],
)
def test_what_is_no_list_is_refused_with_a_sentence(
    ada: Person, client: Browser, content: bytes
) -> None:
    client.force_login(ada)

    answer = client.post(
        "/settings/lists/clients/", {"file": SimpleUploadedFile("a.csv", content)}
    )

    assert answer.status_code == 422
    assert not SentList.objects.exists()


def test_every_kind_reads_its_own_example(ada: Person, client: Browser) -> None:
    client.force_login(ada)
    make_place("The studio", time_zone="Europe/London")

    for kind in kinds():
        example = client.get(f"/settings/lists/{kind.slug}/example/").content
        outcome = brought(kind.slug, example, ada)
        assert (len(outcome.added), faults(outcome)) == (1, [])


def test_a_list_is_matched_tried_and_brought_in_on_its_pages(
    ada: Person, client: Browser
) -> None:
    client.force_login(ada)
    text = "Who,Ring,Mail\nAda <b>,01632 960101,ada@here.example\nBram,,nowhere\n"
    file = SimpleUploadedFile("people.csv", text.encode())

    shown = client.post("/settings/lists/clients/", {"file": file}, follow=True)
    page = shown.request["PATH_INFO"]
    refused = client.post(page, {"look": "1", "phone": "1", "email": "2"})
    chosen = {"name": "0", "phone": "1", "email": "2"}
    looked = client.post(page, {**chosen, "look": "1"}).content.decode()
    to_mend = client.post(page, {**chosen, "bad": "1"}).content.decode("utf-8-sig")
    held = client.post(page, {**chosen, "bring": "1"}, follow=True).content.decode()
    done = client.post(page, {**chosen, "bring": "1", "without_bad": "1"}, follow=True)

    assert "Say which column holds: Name." in refused.content.decode()
    assert "Says Ada &lt;b&gt;, Bram" in looked
    assert "Bring in 1 client<" in looked
    assert to_mend.splitlines()[1].startswith("Bram,,nowhere,E-mail “nowhere”: ")
    assert "Rows cannot be brought in, so nothing was." in held
    assert "1 of clients brought in. 1 were left out." in done.content.decode()
    assert Client.objects.get().name == "Ada <b>"
    again = client.get(page, follow=True).content.decode()
    assert "brought in already, or left" in again


def test_a_list_is_left_and_forgotten_ones_go(ada: Person, client: Browser) -> None:
    client.force_login(ada)
    old = sent("clients", CLIENTS, ada)
    SentList.objects.filter(pk=old.pk).update(sent_at=NOON - 2 * KEPT_FOR)

    one = sent("clients", CLIENTS, ada)
    answer = client.post(f"/settings/lists/clients/{one.pk}/leave/")

    assert answer.status_code == 302
    assert not SentList.objects.exists()
    assert client.get("/settings/lists/ladders/").status_code == 404
