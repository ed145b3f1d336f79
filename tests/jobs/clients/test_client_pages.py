from typing import Any

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.clients.models import Client, ClientKind
from jobs.jobs.client_lists import list_clients
from jobs.jobs.operations import close_as_lost
from tests.make import NOON, make_client, make_job, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

UGLY = '<img src="file:///etc/passwd"/> & Söhne'


@pytest.fixture(params=["owner", "planner", "bookkeeper"])
def browser(request: pytest.FixtureRequest) -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats=request.param))
    return browser


def typed(**answers: Any) -> dict[str, Any]:
    return {"name": "Ilse Thorn", "kind": "PERSON"} | answers


def names(words: str) -> list[str]:
    return [row.name for row in list_clients(words, page="1").rows]


def test_everybody_sees_clients_and_what_is_open_with_them(browser: Browser) -> None:
    client = make_client(UGLY)
    make_job("Open one", client=client)
    lost = make_job("Closed one", client=client)
    close_as_lost(job_id=lost.pk, because="Price", by=lost.owner, at=NOON)

    listed = browser.get("/clients/").content.decode()
    page = browser.get(client.get_absolute_url()).content.decode()

    assert "Open one" in listed
    assert "Closed one" not in listed
    assert "&lt;img src=" in page
    assert "<img src=" not in page
    assert page.index("Open one") < page.index("Closed one")


@pytest.mark.parametrize(
    "words",
    [
        "thorn",
        "ILSE",
        "marlow",
        "thorn.example",
        "01632 960118",
        "+44 1632 960118",
        "960118",
    ],
)
def test_a_client_is_found_by_name_contact_address_or_number(words: str) -> None:
    make_client(
        "Ilse Thorn",
        contact_name="Ines Marlow",
        phone="+441632960118",
        email="ilse@thorn.example",
    )
    make_client("Somebody else", phone="+441632960999", email="else@x.example")

    assert names(words) == ["Ilse Thorn"]


def test_a_short_number_in_a_name_is_no_phone_number() -> None:
    make_client("Studio 44", phone="+441632960118")
    make_client("Meyer", phone="+441632960119")

    assert names("44") == ["Studio 44"]


def test_the_list_is_paged_and_takes_three_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for number in range(28):
        make_job(client=make_client(f"Client {number:02}"))

    with django_assert_num_queries(3):
        found = list_clients("", page="1")
    assert len(found.rows) == 25
    assert found.page.paginator.num_pages == 2


def test_a_client_is_taken_into_the_book_and_changed(browser: Browser) -> None:
    browser.post("/clients/new/", typed(phone="01632 960118"))
    client = Client.objects.get()
    browser.post(
        f"/clients/{client.pk}/edit/",
        typed(name="Thorn & Sons", kind="ORGANISATION", notes="Ring first"),
    )

    client.refresh_from_db()
    assert (client.name, client.kind) == ("Thorn & Sons", ClientKind.ORGANISATION)
    assert (client.phone, client.notes) == ("", "Ring first")


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"name": ""}, "Fill in “Name”."),
        ({"email": "x@"}, "Enter a valid email address."),
        ({"phone": "abc"}, "Write a phone number in figures"),
        ({"kind": "KING"}, "Select a valid choice"),
        ({"name": "x" * 201}, "at most 200 characters"),
    ],
)
def test_bad_input_gets_its_sentence(
    browser: Browser, answers: dict[str, str], said: str
) -> None:
    page = browser.post("/clients/new/", typed(**answers)).content.decode()

    assert said in page
    assert not Client.objects.exists()


def test_a_client_who_is_not_there_is_not_found(browser: Browser) -> None:
    assert browser.get("/clients/999983/").status_code == 404
    assert browser.get("/clients/999983/edit/").status_code == 404
