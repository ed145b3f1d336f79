import pytest
from django.test import Client as Browser

from jobs.clients.models import Client
from jobs.clients.queries import likely_clients
from tests.make import make_client, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def browser() -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person())
    return browser


def lines(*rows: dict[str, str], **more: str) -> dict[str, str]:
    data = {"who-TOTAL_FORMS": str(len(rows)), "who-INITIAL_FORMS": "0", **more}
    for place, row in enumerate(rows):
        data |= {f"who-{place}-{name}": value for name, value in row.items()}
    return data


def test_an_organisation_has_several_to_ring(browser: Browser) -> None:
    client = make_client("Meyer Bakery", kind="ORGANISATION")
    path = f"/clients/{client.pk}/contacts/"
    rows = (
        {"name": "Jo Rand", "role": "accounts", "phone": "01632 960088"},
        {"name": "Pia Low", "email": "pia@meyer.example"},
        {"name": ""},
    )
    assert 'name="who-0-name"' in browser.get(path).content.decode()

    browser.post(path, lines(*rows))

    kept = list(client.contacts.values_list("name", "role", "phone", "email"))
    assert kept == [
        ("Jo Rand", "accounts", "+441632960088", ""),
        ("Pia Low", "", "", "pia@meyer.example"),
    ]
    page = browser.get(client.get_absolute_url()).content.decode()
    assert "Jo Rand" in page
    assert list(Client.objects.matching("pia low")) == [client]
    assert list(Client.objects.matching("960088")) == [client]


def test_a_wrong_line_is_said_beside_its_field_and_none_is_lost(
    browser: Browser,
) -> None:
    client = make_client("Meyer Bakery", kind="ORGANISATION")
    wrong = {"name": "Jo Rand", "phone": "ring her"}

    page = browser.post(f"/clients/{client.pk}/contacts/", lines(wrong))

    html = page.content.decode()
    assert "Write a phone number in figures" in html
    assert "ring her" in html
    assert not client.contacts.exists()


def test_one_more_line_keeps_what_was_typed(browser: Browser) -> None:
    client = make_client("Meyer Bakery", kind="ORGANISATION")

    page = browser.post(
        f"/clients/{client.pk}/contacts/", lines({"name": "Jo"}, add_line="1")
    ).content.decode()

    assert 'value="Jo"' in page
    assert 'name="who-1-name"' in page


@pytest.mark.parametrize(
    "reach", [("+441632960088", ""), ("", "JO@meyer.example")], ids=["phone", "mail"]
)
def test_a_contact_who_rings_is_known_by_number_or_address(
    reach: tuple[str, str],
) -> None:
    client = make_client("Meyer Bakery", phone="", email="")
    make_client("Somebody else", phone="", email="")
    client.contacts.create(
        name="Jo Rand", phone="+441632960088", email="jo@meyer.example"
    )

    found = likely_clients(name="J.", phone=reach[0], email=reach[1])

    assert [one.pk for one in found] == [client.pk]
