import re

import pytest
from django.test import Client as Browser

from studio.history.models import JournalEntry
from studio.people.models import Person
from studio.people.operations import (
    LastOwnerError,
    OwnPasswordError,
    PersonDetails,
    TakenNameError,
    add_person,
    change_person,
    close_person,
    give_password,
)
from studio.people.policy import Hat
from tests.make import NOON, make_person, make_profile

pytestmark = pytest.mark.django_db

NEW = {"name": "Jo Reed", "username": "jo", "is_planner": "on", "phone": "01632 960077"}


@pytest.fixture
def owner() -> Person:
    make_profile()
    return make_person()


@pytest.fixture
def browser(owner: Person) -> Browser:
    browser = Browser()
    browser.force_login(owner)
    return browser


def details(person: Person, *hats: Hat) -> PersonDetails:
    return PersonDetails(name=person.name, username=person.username, hats=hats)


def password_on(page: str) -> str:
    found = re.search(r'id="password">([^<]+)<', page)
    assert found
    return found[1]


def test_somebody_is_let_in_by_a_password_that_is_shown_once(browser: Browser) -> None:
    page = browser.post("/people/new/", NEW).content.decode()

    person = Person.objects.get(username="jo")
    assert person.hats == {Hat.PLANNER}
    assert person.check_password(password_on(page))
    assert (
        password_on(page) not in browser.get(f"/people/{person.pk}/").content.decode()
    )
    assert password_on(page) not in str(list(JournalEntry.objects.values()))


def test_two_people_cannot_sign_in_by_one_name(browser: Browser) -> None:
    browser.post("/people/new/", NEW)
    page = browser.post("/people/new/", NEW | {"username": "JO", "name": "Jo Two"})

    assert page.status_code == 422
    assert page.content.decode().count("Somebody signs in by this name already.") == 2
    assert "Jo Two" in page.content.decode()


def test_somebody_without_a_hat_is_refused_beside_the_hats(browser: Browser) -> None:
    page = browser.post("/people/new/", {"name": "Jo", "username": "jo"})

    assert "Tick at least one." in page.content.decode()
    assert Person.objects.count() == 1


def test_the_last_owner_keeps_the_hat_and_the_door_open(
    browser: Browser, owner: Person
) -> None:
    with pytest.raises(LastOwnerError):
        close_person(person_id=owner.pk, by=owner, at=NOON)
    page = browser.post(
        f"/people/{owner.pk}/",
        {"name": "Ada Vane", "username": owner.username, "is_planner": "on"},
    )

    assert "is the only owner" in page.content.decode()
    owner.refresh_from_db()
    assert (owner.is_owner, owner.is_active) == (True, True)


def test_an_owner_who_signs_in_no_more_does_not_count(owner: Person) -> None:
    other = make_person("Bram Okoro")
    close_person(person_id=other.pk, by=owner, at=NOON)

    with pytest.raises(LastOwnerError):
        change_person(
            person_id=owner.pk, details=details(owner, Hat.PLANNER), by=owner, at=NOON
        )


def test_one_of_two_owners_may_go(owner: Person) -> None:
    other = make_person("Bram Okoro")

    changed = change_person(
        person_id=other.pk, details=details(other, Hat.PLANNER), by=owner, at=NOON
    )

    assert changed.hats == {Hat.PLANNER}


def test_closing_the_door_ends_sessions_at_once(browser: Browser) -> None:
    other = make_person("Bram Okoro", hats="planner")
    theirs = Browser()
    theirs.force_login(other)
    assert theirs.get("/today/").status_code == 200

    browser.post(f"/people/{other.pk}/close/")

    assert theirs.get("/today/")["Location"].startswith("/account/login/")
    browser.post(f"/people/{other.pk}/reopen/")
    assert theirs.get("/today/")["Location"].startswith("/account/login/")
    other.refresh_from_db()
    assert other.is_active


def test_a_new_password_signs_somebody_out_and_is_shown_once(browser: Browser) -> None:
    other = make_person("Bram Okoro", hats="planner")
    theirs = Browser()
    theirs.force_login(other)

    page = browser.post(f"/people/{other.pk}/password/").content.decode()

    other.refresh_from_db()
    assert other.check_password(password_on(page))
    assert theirs.get("/today/").status_code == 302


def test_nobody_gets_a_new_password_from_themselves(owner: Person) -> None:
    with pytest.raises(OwnPasswordError):
        give_password(person_id=owner.pk, by=owner, at=NOON)


def test_a_name_that_is_taken_is_refused_whatever_its_capitals(owner: Person) -> None:
    with pytest.raises(TakenNameError):
        add_person(
            details=PersonDetails(
                name="X", username=owner.username.upper(), hats=[Hat.OWNER]
            ),
            by=owner,
            at=NOON,
        )


def test_the_page_lists_everybody_and_marks_who_is_closed(
    browser: Browser, owner: Person
) -> None:
    other = make_person("Bram Okoro", hats="planner,bookkeeper")
    close_person(person_id=other.pk, by=owner, at=NOON)

    page = browser.get("/people/").content.decode()

    assert "Bram Okoro" in page
    assert "Closed" in page
