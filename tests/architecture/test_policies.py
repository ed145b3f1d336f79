"""Every page has a policy, and every hat gets what the policy says, no more."""

import pytest
from django.http import HttpResponse
from django.test import Client as Browser

from studio.people.policy import POLICY, Hat
from tests.architecture.addresses import Address, addresses, ours
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db

HATS = [hat.value.lower() for hat in Hat]
ANSWERS = {200, 302, 303, 404, 405}
# What the library's own pages let a stranger open: signing in and its ways round.
OPEN_OF_LIBRARY = {
    "account_confirm_email",
    "account_confirm_login_code",
    "account_email_verification_sent",
    "account_inactive",
    "account_login",
    "account_logout",
    "account_reset_password",
    "account_reset_password_done",
    "account_reset_password_from_key",
    "account_reset_password_from_key_done",
    "account_signup",
    "mfa_authenticate",
}


def allowed(address: Address, hat: str) -> bool:
    if address.policy == "open":
        return True
    return Hat(hat.upper()) in POLICY[address.policy]


def signed_in(hat: str) -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats=hat))
    return browser


def asks_to_sign_in(answer: HttpResponse) -> bool:
    return answer.status_code == 302 and answer["Location"].startswith(
        "/account/login/"
    )


def test_every_page_of_ours_names_its_policy() -> None:
    unnamed = [
        address.route
        for address in ours()
        if address.policy != "open" and address.policy not in POLICY
    ]

    assert unnamed == []


def test_no_page_stands_outside_our_own_apps_and_the_sign_in_library() -> None:
    packages = {address.view.__module__.split(".")[0] for address in addresses()}

    assert packages <= {"studio", "jobs", "planning", "invoicing", "allauth"}


@pytest.mark.parametrize("hat", HATS)
def test_each_hat_opens_what_the_policy_allows_it_and_nothing_else(hat: str) -> None:
    browser = signed_in(hat)

    wrong = []
    for address in ours():
        status = browser.get(address.path).status_code
        wanted = ANSWERS if allowed(address, hat) else {403}
        if status not in wanted:
            wrong.append((address.route, status))

    assert wrong == []


@pytest.mark.parametrize("hat", HATS)
def test_no_hat_changes_what_the_policy_keeps_from_it(hat: str) -> None:
    browser = signed_in(hat)

    closed = [address for address in ours() if not allowed(address, hat)]
    wrong = [
        address.route
        for address in closed
        if browser.post(address.path).status_code != 403
    ]

    assert wrong == []


@pytest.mark.parametrize("method", ["get", "post"])
def test_nobody_is_asked_to_sign_in(method: str) -> None:
    make_profile()
    browser = Browser()

    wrong = []
    for address in ours():
        answer = getattr(browser, method)(address.path)
        if address.policy == "open":
            refused = asks_to_sign_in(answer) or answer.status_code in {403, 500}
        else:
            refused = not asks_to_sign_in(answer)
        if refused:
            wrong.append((address.route, answer.status_code))

    assert wrong == []


def test_the_library_opens_only_the_pages_of_signing_in_to_nobody() -> None:
    opened = {
        address.name
        for address in addresses()
        if not address.is_ours and not getattr(address.view, "login_required", True)
    }

    assert opened == OPEN_OF_LIBRARY


def test_every_page_says_which_methods_it_answers() -> None:
    browser = signed_in("owner")

    wrong = [
        address.route
        for address in ours()
        if browser.trace(address.path).status_code != 405
    ]

    assert wrong == []
