import pytest
from django.contrib.auth import authenticate

from studio.demo import Scenery, studio_share
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.demo import point_demo_at
from studio.profile.models import StudioProfile
from tests.make import NOON, make_profile

pytestmark = pytest.mark.django_db


def test_the_demo_has_one_person_for_each_hat() -> None:
    scenery = Scenery(at=NOON)

    studio_share(scenery)

    hats = {person.username: person.hats for person in Person.objects.all()}
    assert hats == {
        "maren": {Hat.OWNER},
        "jory": {Hat.PLANNER},
        "edda": {Hat.BOOKKEEPER},
    }
    assert set(scenery.passwords) == set(hats) == set(scenery.rows) - {"profile"}


def test_the_printed_passwords_open_the_demo() -> None:
    scenery = Scenery(at=NOON)

    studio_share(scenery)

    assert len(set(scenery.passwords.values())) == 3
    for name, password in scenery.passwords.items():
        assert authenticate(username=name, password=password) == scenery.rows[name]


def test_the_demo_asks_nobody_to_set_it_up_and_reaches_nobody() -> None:
    studio_share(Scenery(at=NOON))

    profile = StudioProfile.load()
    profile.full_clean()
    people = Person.objects.values_list("phone", "email")
    # The British regulator keeps 01632 960000 to 960999 free for drama (Ofcom, from
    # memory); .example is nobody's (RFC 2606).
    assert profile.set_up_at is not None
    assert profile.set_up_at <= NOON
    for phone, email in [(profile.phone, profile.email), *people]:
        assert phone.startswith("01632 960")
        assert email.endswith("@tolvey.example")


def test_only_the_demo_is_pointed_at_where_it_is_served() -> None:
    make_profile()
    point_demo_at("http://127.0.0.1:8123")
    assert StudioProfile.load().public_address == "https://studio.example"

    StudioProfile.objects.update(is_demo=True)
    point_demo_at("http://127.0.0.1:8123")
    assert StudioProfile.load().public_address == "http://127.0.0.1:8123"
