from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth import authenticate

from studio import demo
from studio.demo import Scenery
from studio.people.models import Person
from studio.people.passwords import readable_password
from studio.profile.models import StudioProfile
from studio.start.people import (
    UsedDatabaseError,
    first_owner,
    kept_passwords,
    open_demo,
)
from tests.make import NOON, make_job, make_person, make_profile

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def var(tmp_path: Path, settings: Any) -> Path:
    settings.DATA_DIR = tmp_path
    return tmp_path


@pytest.fixture(autouse=True)
def shares(monkeypatch: pytest.MonkeyPatch) -> list[demo.Share]:
    """Stand in for the demo's own shares, which have tests of their own."""

    def people(scenery: Scenery) -> None:
        password = readable_password()
        Person.objects.create_user("rowan", password, name="Rowan", is_owner=True)
        scenery.passwords["rowan"] = password

    stand_ins: list[demo.Share] = [people]
    monkeypatch.setattr(demo, "_shares", stand_ins)
    return stand_ins


def test_an_empty_studio_gets_an_owner_whose_password_is_told_once() -> None:
    password = first_owner()

    assert password is not None
    assert authenticate(username="owner", password=password) is not None
    assert first_owner() is None


def test_no_two_passwords_are_alike() -> None:
    assert len({readable_password() for _ in range(500)}) == 500


def test_the_demo_is_built_once_and_opened_again(var: Path) -> None:
    passwords = open_demo(at=NOON)
    again = open_demo(at=NOON)

    assert passwords == again == kept_passwords()
    assert StudioProfile.load().is_demo
    assert Person.objects.count() == 1
    assert (var / "demo-passwords.txt").stat().st_mode & 0o777 == 0o600


def test_the_demo_takes_the_place_of_an_owner_who_never_signed_in() -> None:
    first_owner()

    open_demo(at=NOON)

    assert [person.username for person in Person.objects.all()] == ["rowan"]


def test_the_demo_is_not_put_into_a_real_studio() -> None:
    make_profile()
    make_job()

    with pytest.raises(UsedDatabaseError, match="holds a real studio"):
        open_demo(at=NOON)

    assert not StudioProfile.load().is_demo


def test_an_owner_who_has_signed_in_is_work(var: Path) -> None:
    make_person(last_login=NOON)

    with pytest.raises(UsedDatabaseError):
        open_demo(at=NOON)

    assert list(var.iterdir()) == []


def test_a_demo_that_fails_half_way_leaves_an_empty_database(
    shares: list[demo.Share],
) -> None:
    def breaks(_: Scenery) -> None:
        raise RuntimeError("half way")

    shares.append(breaks)

    with pytest.raises(RuntimeError):
        open_demo(at=NOON)

    assert not Person.objects.exists()
    assert not StudioProfile.load().is_demo


def test_lost_passwords_are_not_made_up(var: Path) -> None:
    open_demo(at=NOON)
    (var / "demo-passwords.txt").unlink()

    assert open_demo(at=NOON) == {}
