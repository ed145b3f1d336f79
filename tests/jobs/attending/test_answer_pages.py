"""The questions on the client's private page and the studio's, through the browser."""

import html
import re
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.attending.models import Need, SessionAnswers
from jobs.attending.operations import AnswersError, ask_client, open_page
from jobs.attending.queries import company_of
from jobs.bookings.models import Attendee, Booking, Part
from studio.history.models import ActorKind, JournalEntry
from studio.links.models import PrivateLink
from studio.links.operations import token_of
from studio.mail.models import Message
from tests.make import (
    NOON,
    make_booking,
    make_client,
    make_job,
    make_person,
    make_profile,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
TICKS = ("wears_glasses", "uses_wheelchair", "flash_sensitive", "not_shown")


@pytest.fixture
def booking() -> Booking:
    make_profile(public_address="https://studio.example")
    client = make_client("Fenna Oake", email="fenna@oake.example")
    booking = make_booking(job=make_job(client=client, by=make_person()))
    Attendee.objects.create(booking=booking, name="Fenna Oake", part=Part.CLIENT)
    Attendee.objects.create(booking=booking, name="Ilo Oake")
    return booking


@pytest.fixture
def address(booking: Booking) -> str:
    link = open_page(booking_id=booking.pk, by=booking.job.owner, at=NOON)
    return f"/p/session/{token_of(link)}/"


def shown(page: str) -> dict[str, str]:
    """Return what a browser would post of a page's form if nothing were typed."""
    fields: dict[str, str] = {}
    for box in re.findall(r"<(?:input|select)[^>]*>", page):
        said = dict(re.findall(r'(\w+)="([^"]*)"', box))
        ticked = said.get("type") != "checkbox" or "checked" in box
        if "name" in said and ticked and said.get("name") != "csrfmiddlewaretoken":
            unsaid = "on" if said.get("type") == "checkbox" else ""
            fields[said["name"]] = html.unescape(said.get("value", unsaid))
    for name, inside in re.findall(
        r'<select name="([^"]+)".*?>(.*?)</select>', page, re.DOTALL
    ):
        chosen = re.search(r'value="([^"]*)" selected', inside)
        fields[name] = chosen.group(1) if chosen else ""
    return fields


def got(browser: Browser, path: str) -> dict[str, str]:
    return shown(browser.get(path).content.decode())


def ilo(booking: Booking) -> Need:
    return Need.objects.get(attendee__booking=booking, attendee__name="Ilo Oake")


def test_the_client_tells_who_comes_without_an_account(
    client: Browser, booking: Booking, address: str
) -> None:
    posted = got(client, address) | {
        "who-1-age": "9",
        "who-1-age_unit": "MONTHS",
        "who-1-naps": "12.30-14",
        "who-1-not_shown": "on",
        "who-2-name": "Gran Oake",
        "who-2-household": "Quay Street",
        "who-2-uses_wheelchair": "on",
        "dog_comes": "on",
        "guardian_name": "Fenna",
    }

    page = client.post(address, posted, follow=True).content.decode()

    company = company_of(booking)
    assert "Thank you. You can change this until the day." in page
    assert (company.dog_comes, company.guardian_name) == (True, "Fenna")
    baby, gran = company.people[1:]
    assert (baby.is_baby, baby.age_words, baby.not_shown) == (True, "9 months", True)
    assert ilo(booking).naps == "12:30–14:00"
    assert (gran.household, gran.uses_wheelchair) == ("Quay Street", True)
    entry = JournalEntry.objects.latest("sequence")
    assert (entry.actor_kind, entry.verb) == (ActorKind.CLIENT, "answers kept")
    assert entry.data == {}


def test_bad_answers_are_refused_beside_their_fields_and_stay_typed(
    client: Browser, booking: Booking, address: str
) -> None:
    posted = got(client, address) | {"who-1-age": "140", "who-1-naps": "after lunch"}

    page = client.post(address, posted).content.decode()

    assert "Write from when to when, like 12:30–14:00." in page
    assert 'value="after lunch"' in page
    assert 'value="140"' in page
    assert not Need.objects.exists()


def test_studio_and_client_write_at_once_and_neither_loses_a_word(
    client: Browser, booking: Booking, address: str
) -> None:
    studio = Browser()
    studio.force_login(booking.job.owner)
    path = f"/jobs/sessions/{booking.pk}/answers/"
    clients, studios = got(client, address), got(studio, path)

    client.post(
        address,
        clients | {"who-1-age": "4", "who-1-household": "Oake", "dog_comes": "on"},
    )
    answer = studio.post(path, studios | {"who-1-age": "5", "who-2-name": "Aunt Wren"})
    page = html.unescape(answer.content.decode())

    assert answer.status_code == 409
    assert "Somebody else wrote “4” meanwhile. Save again to keep yours." in page
    assert "Changed meanwhile; before it was empty." in page
    again = shown(answer.content.decode())
    assert (again["who-1-age"], again["who-1-household"]) == ("5", "Oake")
    assert (again["who-2-name"], again["dog_comes"]) == ("Aunt Wren", "on")
    assert ilo(booking).age == 4

    assert studio.post(path, again).status_code == 302
    assert (ilo(booking).age, ilo(booking).household) == (5, "Oake")
    assert SessionAnswers.objects.get().dog_comes
    assert booking.attendees.filter(name="Aunt Wren").count() == 1


def test_somebody_taken_off_while_the_other_writes_comes_back_only_if_wished(
    client: Browser, booking: Booking, address: str
) -> None:
    posted = got(client, address) | {"who-1-age": "4"}
    booking.attendees.get(name="Ilo Oake").delete()
    Attendee.objects.create(booking=booking, name="Wren Oake")

    answer = client.post(address, posted)

    page = html.unescape(answer.content.decode())
    assert "Taken off the list meanwhile. Save again to put them back." in page
    assert "Added to the list meanwhile." in page
    assert client.post(address, shown(answer.content.decode())).status_code == 302
    names = set(booking.attendees.values_list("name", flat=True))
    assert names == {"Fenna Oake", "Ilo Oake", "Wren Oake"}


def test_what_was_told_goes_with_the_person(
    client: Browser, booking: Booking, address: str
) -> None:
    client.post(address, got(client, address) | {"who-1-flash_sensitive": "on"})
    assert ilo(booking).flash_sensitive

    client.post(address, got(client, address) | {"who-1-DELETE": "on"})

    assert list(booking.attendees.values_list("name", flat=True)) == ["Fenna Oake"]
    assert set(Need.objects.values_list("attendee__name", flat=True)) == {"Fenna Oake"}


def test_the_clients_own_line_is_not_taken_off_by_a_made_up_post(
    client: Browser, booking: Booking, address: str
) -> None:
    client.post(address, got(client, address) | {"who-0-DELETE": "on"})

    assert booking.attendees.filter(part=Part.CLIENT).exists()


def test_another_line_keeps_what_was_typed(
    client: Browser, booking: Booking, address: str
) -> None:
    posted = got(client, address) | {"who-2-name": "Aunt Wren", "add_line": "1"}

    page = client.post(address, posted).content.decode()

    again = shown(page)
    assert (again["who-TOTAL_FORMS"], again["who-2-name"]) == ("4", "Aunt Wren")
    assert booking.attendees.count() == 2


@pytest.mark.parametrize("base", ["", "[", "[]", '{"session": 1, "people": {"x": 2}}'])
def test_a_page_that_forgot_what_it_showed_is_answered_calmly(
    client: Browser, booking: Booking, address: str, base: str
) -> None:
    assert client.post(address, {"base": base}).status_code == 200
    posted = got(client, address) | {"base": base, "who-1-age": "4"}

    assert client.post(address, posted).status_code in {302, 409}


def test_no_bookkeeper_sees_what_was_told(booking: Booking) -> None:
    browser = Browser()
    browser.force_login(make_person("Edda Fray", hats="bookkeeper"))
    Need.objects.create(
        attendee=booking.attendees.get(name="Ilo Oake"),
        flash_sensitive=True,
        naps="12:30–14:00",
    )

    job = browser.get(booking.job.get_absolute_url()).content.decode()

    assert browser.get(f"/jobs/sessions/{booking.pk}/answers/").status_code == 403
    assert "/answers/" not in job
    assert "12:30–14:00" not in job


def test_the_client_is_asked_by_a_letter_and_the_page_can_be_closed(
    client: Browser, booking: Booking
) -> None:
    client.force_login(booking.job.owner)
    here = f"/jobs/sessions/{booking.pk}/answers/"

    client.post(f"{here}page/", {"send": "1"})
    link = PrivateLink.objects.get()
    letter = Message.objects.get()
    client.post(f"{here}page/close/")

    assert (letter.address, letter.link) == ("fenna@oake.example", link)
    assert "{link}" in letter.body
    assert Browser().get(f"/p/session/{token_of(link)}/").status_code == 404


def test_nobody_is_asked_without_an_address(booking: Booking) -> None:
    booking.job.client.email = ""
    booking.job.client.save()

    with pytest.raises(AnswersError, match="no e-mail address"):
        ask_client(booking_id=booking.pk, by=booking.job.owner, at=NOON)


@pytest.mark.parametrize(
    "over",
    [
        {"status": "COMPLETED"},
        {
            "starts_at": NOON - timedelta(hours=27),
            "ends_at": NOON - timedelta(hours=25),
        },
    ],
)
def test_after_the_session_nothing_is_asked_and_nothing_shown(
    client: Browser, booking: Booking, address: str, over: dict[str, Any]
) -> None:
    posted = got(client, address) | {"who-1-age": "4"}
    Booking.objects.update(**over)

    page = client.post(address, posted).content.decode()

    assert "Nothing is asked here now." in page
    assert "Ilo Oake" not in page
    assert not Need.objects.exists()


def test_answers_are_erased_and_names_stay(client: Browser, booking: Booking) -> None:
    Need.objects.create(attendee=booking.attendees.all()[0], wears_glasses=True)
    SessionAnswers.objects.create(booking=booking, guardian_name="Fenna")
    client.force_login(booking.job.owner)
    path = f"/jobs/sessions/{booking.pk}/answers/erase/"

    assert client.get(path).status_code == 200
    client.post(path)

    assert not Need.objects.exists()
    assert not SessionAnswers.objects.exists()
    assert booking.attendees.count() == 2


def test_editing_the_list_of_phones_keeps_what_was_told(
    client: Browser, booking: Booking
) -> None:
    child = booking.attendees.get(name="Ilo Oake")
    Need.objects.create(attendee=child, age=4)
    client.force_login(booking.job.owner)
    path = f"/jobs/sessions/{booking.pk}/people/"
    posted = got(client, path) | {"who-1-name": "Ilo Oake-Reed"}
    Attendee.objects.create(booking=booking, name="Told meanwhile")

    client.post(path, posted)

    assert Need.objects.get(attendee__name="Ilo Oake-Reed").attendee_id == child.pk
    assert booking.attendees.filter(name="Told meanwhile").exists()


def test_whoever_was_told_of_is_folded_away_with_it_in_a_line(
    client: Browser, booking: Booking, address: str
) -> None:
    posted = got(client, address) | {"who-1-age": "1", "who-1-wears_glasses": "on"}
    client.post(address, posted)

    page = client.get(address).content.decode()

    folds = re.findall(r'<details class="person-card"( open)?>', page)
    assert folds == [" open", "", " open"]  # the client untold, Ilo told, a new one
    assert "1 year, glasses" in page


@pytest.mark.parametrize(
    "odd",
    [
        {"who-1-row": "9" * 30},
        {"who-1-row": "987654", "who-1-DELETE": "on"},
        {"who-1-age": "4", "who-1-age_unit": "DECADES"},
    ],
)
def test_what_no_page_posts_is_answered_calmly(
    client: Browser, booking: Booking, address: str, odd: dict[str, str]
) -> None:
    answer = client.post(address, got(client, address) | odd)

    assert answer.status_code in {200, 302, 409}
    assert booking.attendees.filter(name="Ilo Oake").exists()
