from datetime import date, timedelta
from typing import Any

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import Client as Browser

from jobs.clients.models import Client
from jobs.enquiries.forms import opened_stamp
from jobs.jobs.choices import Channel
from jobs.jobs.models import Job
from studio.history.models import ActorKind, JournalEntry
from studio.panels import today_items
from studio.people.models import Person
from studio.people.policy import Hat
from studio.visitors import Limit
from tests.make import NOON, make_client, make_person, make_profile
from tests.studio.markup import Markup

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

PATH = "/enquire/"


@pytest.fixture
def ada() -> Person:
    cache.clear()
    make_profile(enquiry_form_open=True, enquiry_words="Tell us of your people.")
    return make_person()


def answers(**changed: Any) -> dict[str, Any]:
    usual = {
        "name": "Ilse Thorn",
        "reach": "01632 960077 or ilse@thorn.example",
        "when": "14/10/2026",
        "what": "A family of five. At the harbour?",
        "homepage": "",
        "opened": opened_stamp(NOON - timedelta(minutes=2)),
    }
    return usual | changed


def test_four_answers_of_a_stranger_become_a_job_of_the_owner(
    client: Browser, ada: Person
) -> None:
    answer = client.post(PATH, answers())

    job = Job.objects.select_related("client").get()
    assert answer.headers["Location"] == "/enquire/thanks/"
    assert (job.client.name, job.client.phone) == ("Ilse Thorn", "+441632960077")
    assert job.client.email == "ilse@thorn.example"
    assert (job.title, job.wished_on) == (
        "Ilse Thorn, A family of five",
        date(2026, 10, 14),
    )
    assert (job.owner, job.came_in) == (ada, Channel.FORM)
    assert job.reply_by_on == date(2026, 6, 22)  # 21 June 2026 is a Sunday
    kinds = JournalEntry.objects.values_list("actor_kind", flat=True)
    assert set(kinds) == {ActorKind.CLIENT}
    titles = [one.title for one in today_items(ada, NOON, [Hat.OWNER])]
    assert any("Answer Ilse Thorn" in title for title in titles)
    assert "Thank you, we have it" in client.get("/enquire/thanks/").content.decode()


def test_the_page_asks_four_things_of_people(client: Browser, ada: Person) -> None:
    page = client.get(PATH).content.decode()

    seen = Markup(page)
    boxes = [*seen.of("input"), *seen.of("textarea")]
    asked = [
        one["name"]
        for one in boxes
        if one.get("type") != "hidden" and one.get("tabindex") != "-1"
    ]
    assert asked == ["name", "reach", "when", "what"]
    assert "Tell us of your people." in page
    assert "http" not in page.replace("https://studio.example", "").split("<main")[1]


def test_the_form_is_not_there_unless_it_is_switched_on(client: Browser) -> None:
    make_profile()
    make_person()

    assert client.get(PATH).status_code == 404
    assert client.post(PATH, answers()).status_code == 404
    assert client.get("/enquire/thanks/").status_code == 404
    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"name": " "}, "Fill in “Your name”."),
        ({"what": ""}, "Fill in “What you have in mind”."),
        ({"reach": ""}, "Fill in “How to reach you”."),
        ({"reach": "by pigeon"}, "Give a phone number or an e-mail address."),
        ({"reach": "ilse@thorn"}, "The e-mail address is not whole"),
        ({"reach": "ring 12"}, "Write the phone number in figures"),
        ({"what": "x" * 2001}, "at most 2000 characters"),
        ({"opened": ""}, "Send it once more."),
        ({"opened": opened_stamp(NOON)}, "Send it once more."),
        ({"opened": opened_stamp(NOON + timedelta(days=9))}, "Send it once more."),
        ({"opened": opened_stamp(NOON - timedelta(days=2))}, "Send it once more."),
        ({"opened": "1781870400:forged"}, "Send it once more."),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_lost(
    client: Browser, ada: Person, changed: dict[str, str], said: str
) -> None:
    page = client.post(PATH, answers(**changed))

    html = page.content.decode()
    assert page.status_code == 422
    assert said in html
    assert "<title>Error: Ask for a session" in html
    assert "14/10/2026" in html
    assert not Job.objects.exists()


def test_a_program_that_fills_in_everything_is_thanked_and_not_kept(
    client: Browser, ada: Person
) -> None:
    answer = client.post(PATH, answers(homepage="https://spam.example"))

    assert answer.headers["Location"] == "/enquire/thanks/"
    assert not Client.objects.exists()


def test_more_than_five_an_hour_from_one_address_are_not_kept(
    client: Browser, ada: Person
) -> None:
    said = [
        client.post(PATH, answers(what=f"Number {number}.")).status_code
        for number in range(6)
    ]

    assert said == [302] * 5 + [429]
    assert Job.objects.count() == 5
    other = client.post(PATH, answers(what="Another."), REMOTE_ADDR="198.51.100.7")
    assert other.status_code == 302


def test_from_everybody_together_a_days_count_is_not_passed(
    client: Browser, ada: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    few = Limit("enquiries-from-all", 2, timedelta(days=1))
    monkeypatch.setattr("jobs.enquiries.views.FROM_ALL", few)

    said = [
        client.post(
            PATH, answers(what=f"No {last}."), REMOTE_ADDR=f"198.51.100.{last}"
        ).status_code
        for last in range(3)
    ]

    assert said == [302, 302, 429]


def test_who_wrote_is_counted_by_a_hash_and_not_by_the_address(
    client: Browser, ada: Person
) -> None:
    client.post(PATH, answers(), REMOTE_ADDR="198.51.100.77")

    with connection.cursor() as cursor:
        cursor.execute("SELECT cache_key, value FROM studio_cache")
        kept = str(cursor.fetchall())
    assert "enquiries-from-one" in kept
    assert "198.51.100.77" not in kept


def test_the_same_sent_twice_is_one_job(client: Browser, ada: Person) -> None:
    client.post(PATH, answers())
    client.post(PATH, answers())

    assert (Client.objects.count(), Job.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("changed", "known"),
    [
        ({"name": "THORN, Ilse"}, True),
        ({"reach": "ILSE@thorn.example"}, True),
        ({"reach": "other@thorn.example"}, False),
        ({"name": "Somebody Else"}, False),
    ],
)
def test_a_client_is_known_by_name_and_number_or_address_together(
    client: Browser, ada: Person, changed: dict[str, str], known: bool
) -> None:
    ilse = make_client("Ilse Thorn", phone="01632 960077", email="ilse@thorn.example")

    client.post(PATH, answers(**changed))

    job = Job.objects.get()
    assert (job.client == ilse) is known
    client.force_login(ada)
    offered = f"/clients/{job.client_id}/merge/{ilse.pk}/"
    page = client.get(job.get_absolute_url()).content.decode()
    assert (offered in page) is not known


def test_words_for_a_time_are_kept_as_words(client: Browser, ada: Person) -> None:
    client.post(PATH, answers(when="a weekend in May"))

    job = Job.objects.get()
    assert job.wished_on is None
    assert job.wish.endswith("When: a weekend in May")


def test_without_anybody_to_answer_the_form_says_so(client: Browser) -> None:
    cache.clear()
    make_profile(enquiry_form_open=True)

    page = client.post(PATH, answers())

    assert "The form is closed for now." in page.content.decode()
    assert not Client.objects.exists()


def test_the_owner_switches_the_form_on(client: Browser) -> None:
    make_profile()
    client.force_login(make_person())

    client.post(
        "/settings/enquiries/",
        {"enquiry_form_open": "on", "enquiry_words": "", "guide_words": "£200"},
    )

    assert client.get(PATH).status_code == 200
    assert "The form is open" in client.get("/settings/").content.decode()
