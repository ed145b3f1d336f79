from datetime import date
from typing import Any

import pytest
from django.test import Client as Browser

from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.jobs.titles import title_of
from tests.make import make_client, make_person, make_profile
from tests.studio.markup import Markup

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

UGLY = '<img src="file:///etc/passwd"/> & Söhne'


@pytest.fixture
def browser() -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats="planner"))
    return browser


def asked(**answers: Any) -> dict[str, Any]:
    usual = {"name": "Ilse Thorn", "phone": "01632 960077", "wish": "A family of five."}
    return usual | answers


def test_an_enquiry_becomes_a_client_and_a_job(browser: Browser) -> None:
    answer = browser.post("/jobs/new/", asked(wished_on="14/10/2026"))

    job = Job.objects.select_related("client").get()
    assert answer.headers["Location"] == f"/jobs/{job.pk}/"
    assert (job.client.name, job.client.phone) == ("Ilse Thorn", "+441632960077")
    assert (job.title, job.wished_on) == (
        "Ilse Thorn, A family of five",
        date(2026, 10, 14),
    )


def test_save_and_quote_goes_on_to_the_quote(browser: Browser) -> None:
    answer = browser.post("/jobs/new/", asked(quote="1"))

    assert answer.headers["Location"] == f"/quotes/for/{Job.objects.get().pk}/"


def test_four_questions_are_seen(browser: Browser) -> None:
    page = Markup(browser.get("/jobs/new/").content.decode())

    boxes = {attrs.get("name") for attrs in [*page.of("input"), *page.of("textarea")]}
    assert {"name", "phone", "email", "wish", "wished_on"} <= boxes
    assert boxes <= {
        "name",
        "phone",
        "email",
        "wish",
        "wished_on",
        "q",
        "csrfmiddlewaretoken",
    }


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"name": ""}, "Fill in “Name”."),
        ({"phone": ""}, "Give a phone number or an e-mail address."),
        ({"phone": "ring me"}, "Write a phone number in figures"),
        ({"email": "nowhere"}, "Enter a valid email address."),
        ({"wished_on": "31/2/2026"}, "Write a day that exists"),
    ],
)
def test_what_is_missing_is_said_beside_its_field_and_nothing_is_lost(
    browser: Browser, answers: dict[str, str], said: str
) -> None:
    page = browser.post("/jobs/new/", asked(**answers))

    html = page.content.decode()
    assert page.status_code == 200
    assert said in html
    assert "<title>Error: New enquiry" in html
    assert not Job.objects.exists()
    for kept in asked(**answers).values():
        assert kept.strip() in html


def test_an_address_alone_is_enough(browser: Browser) -> None:
    browser.post("/jobs/new/", asked(phone="", email="ilse@thorn.example"))

    assert Client.objects.get().email == "ilse@thorn.example"


@pytest.mark.parametrize(
    "same",
    [
        {"name": "thorn"},
        {"name": "I. Thorn", "phone": "+44 1632 960077"},
        {"name": "Somebody", "phone": "", "email": "ILSE@thorn.example"},
    ],
)
def test_somebody_of_the_same_name_number_or_address_is_asked_about(
    browser: Browser, same: dict[str, str]
) -> None:
    known = make_client("Ilse Thorn", phone="+441632960077", email="ilse@thorn.example")

    page = browser.post("/jobs/new/", asked(**same)).content.decode()

    assert "Say whether it is somebody you know." in page
    assert f'value="{known.pk}"' in page
    assert not Job.objects.exists()


def test_a_known_client_gets_another_job_and_gains_what_was_missing(
    browser: Browser,
) -> None:
    known = make_client("Ilse Thorn", phone="", email="ilse@thorn.example")

    browser.post("/jobs/new/", asked(known=str(known.pk)))

    known.refresh_from_db()
    assert Job.objects.get().client == known
    assert (known.phone, known.email) == ("+441632960077", "ilse@thorn.example")


def test_somebody_new_of_the_same_name_is_a_client_apart(browser: Browser) -> None:
    make_client("Ilse Thorn")

    browser.post("/jobs/new/", asked(known="new"))

    assert Client.objects.filter(name="Ilse Thorn").count() == 2


def test_a_client_nobody_offered_cannot_be_chosen(browser: Browser) -> None:
    make_client("Ilse Thorn")
    other = make_client("Somebody else")

    page = browser.post("/jobs/new/", asked(known=str(other.pk)))

    assert "Say whether it is somebody you know." in page.content.decode()
    assert not Job.objects.exists()


def test_the_question_is_asked_while_the_name_is_typed(browser: Browser) -> None:
    make_client("Ilse Thorn")

    known = browser.get("/jobs/new/known/", {"name": "ilse thorn"}).content.decode()
    new = browser.get("/jobs/new/known/", {"name": "Nobody yet"}).content.decode()

    assert "Is it somebody you know?" in known
    assert "Say whether" not in known
    assert new.strip() == ""


def test_from_a_clients_page_the_client_is_filled_in(browser: Browser) -> None:
    known = make_client("Ilse Thorn", phone="+441632960077")

    page = browser.get(f"/jobs/new/?client={known.pk}").content.decode()

    assert 'value="Ilse Thorn"' in page
    assert "01632 960077" in page
    assert browser.get("/jobs/new/?client=9999999999999999999").status_code == 200


def test_an_ugly_name_is_shown_as_it_is_written(browser: Browser) -> None:
    page = browser.post("/jobs/new/", asked(name=UGLY), follow=True).content.decode()

    assert "<img src=" not in page
    assert "&lt;img src=" in page
    assert Client.objects.get().name == UGLY


def test_a_title_is_made_of_name_and_the_first_words() -> None:
    assert title_of("Bram", "Dogs on a beach. At dusk.") == "Bram, Dogs on a beach"
    assert title_of("Bram", "At f/2.8 only") == "Bram, At f/2.8 only"
    long = title_of("N" * 200, "word " * 100)
    assert len(long) <= 200
    assert long.endswith("…")


def test_a_bookkeeper_takes_no_enquiries() -> None:
    browser = Browser()
    browser.force_login(make_person(hats="bookkeeper"))

    assert browser.get("/jobs/new/").status_code == 403
    assert browser.post("/jobs/new/", asked()).status_code == 403
