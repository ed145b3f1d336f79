import pytest
from django.test import Client as Browser

from studio.people.models import Person
from studio.search import find
from tests.make import (
    make_client,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)

pytestmark = pytest.mark.django_db


def found(words: str, person: Person) -> set[tuple[str, str]]:
    return {(one.kind, one.title) for one in find(words, person=person).rows}


def test_the_search_box_finds_jobs_clients_places_and_kit() -> None:
    client = make_client("Harbour trust")
    make_job("Harbour day", client=client)
    make_place("Harbour slip")
    make_item("Harbour case")

    everything = found("harbour", make_person())

    assert everything == {
        ("Job", "Harbour day"),
        ("Client", "Harbour trust"),
        ("Place", "Harbour slip"),
        ("Kit", "Harbour case"),
    }
    assert {kind for kind, _ in found("harbour", make_person(hats="bookkeeper"))} == {
        "Job",
        "Client",
    }


def test_a_client_is_found_by_a_number_as_it_is_dialled() -> None:
    make_client("Ilse Thorn", phone="+441632960118")

    assert ("Client", "Ilse Thorn") in found("01632 960118", make_person())


def test_the_page_shows_ugly_finds_as_text() -> None:
    make_profile()
    for _ in range(2):
        make_client('<img src="file:///etc/passwd"/> & Söhne')
    browser = Browser()
    browser.force_login(make_person())

    page = browser.get("/search/", {"q": "söhne"}).content.decode()

    assert "&lt;img src=" in page
    assert "<img src=" not in page


def test_a_common_word_shows_ten_of_a_kind_and_says_that_there_may_be_more() -> None:
    make_profile()
    for number in range(11):
        make_place(f"Harbour slip {number}")
    browser = Browser()
    browser.force_login(make_person())

    page = browser.get("/search/", {"q": "harbour"}).content.decode()
    few = browser.get("/search/", {"q": "harbour slip 1"}).content.decode()

    assert page.count("Harbour slip") == 10
    assert "At most ten of a kind are shown" in page
    assert few.count("Harbour slip") == 2
    assert "At most ten" not in few
