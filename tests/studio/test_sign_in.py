import pytest
from django.test import Client as Browser

from tests.make import PASSWORD, make_person, make_profile

pytestmark = pytest.mark.django_db


def test_a_person_signs_in_changes_the_password_and_signs_out(client: Browser) -> None:
    make_profile()
    ada = make_person()
    page = client.post(
        "/account/login/", {"login": ada.username, "password": PASSWORD}, follow=True
    )
    assert page.redirect_chain[-1][0] == "/today/"

    new = "another long pass phrase 7"
    changed = client.post(
        "/account/password/change/",
        {"oldpassword": PASSWORD, "password1": new, "password2": new},
    )
    assert changed.status_code == 302
    ada.refresh_from_db()
    assert ada.check_password(new)

    assert client.post("/account/logout/").status_code == 302
    assert client.get("/today/").status_code == 302


@pytest.mark.parametrize(
    "path",
    [
        "/account/2fa/",
        "/account/2fa/totp/activate/",
        "/account/sessions/",
        "/account/password/change/",
        "/account/signup/",
        "/account/logout/",
    ],
)
def test_the_pages_of_ones_own_account_carry_no_inline_script_or_style(
    client: Browser, path: str
) -> None:
    make_profile()
    client.post(
        "/account/login/", {"login": make_person().username, "password": PASSWORD}
    )

    page = client.get(path, follow=True)

    text = page.content.decode()
    assert page.status_code == 200
    assert "<script>" not in text
    assert " style=" not in text
    assert "css/tokens.css" in text


def test_nobody_signs_up(client: Browser) -> None:
    make_profile()

    page = client.post(
        "/account/signup/", {"username": "eve", "password1": "a long enough phrase"}
    )

    assert "made by the owner" in page.content.decode()


def test_a_wrong_password_is_told_beside_the_form(client: Browser) -> None:
    make_profile()

    page = client.post(
        "/account/login/", {"login": make_person().username, "password": "wrong"}
    )

    assert page.status_code == 200
    assert "Error: Sign in" in page.content.decode()
