"""Where somebody is signed in is noted at once when it is new, else now and then."""

from datetime import UTC, datetime, timedelta

import pytest
from allauth.usersessions.models import UserSession
from django.test import Client as Browser

from studio.people.middleware import NOTED_FOR
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db


def test_a_page_notes_it_once_and_again_after_some_minutes() -> None:
    make_profile()
    browser = Browser()
    browser.force_login(make_person())
    browser.get("/jobs/")
    first = UserSession.objects.get()
    browser.get("/jobs/")
    second = UserSession.objects.get()
    earlier = datetime.now(UTC) - NOTED_FOR - timedelta(seconds=1)
    UserSession.objects.update(last_seen_at=earlier)
    browser.get("/jobs/")
    third = UserSession.objects.get()

    assert second.last_seen_at == first.last_seen_at
    assert third.last_seen_at > first.last_seen_at


def test_another_address_or_program_is_noted_at_once() -> None:
    make_profile()
    browser = Browser()
    browser.force_login(make_person())
    browser.get("/jobs/")
    browser.get("/jobs/", REMOTE_ADDR="192.0.2.7", headers={"user-agent": "Phone"})

    noted = UserSession.objects.get()
    assert (noted.ip, noted.user_agent) == ("192.0.2.7", "Phone")


def test_who_is_not_signed_in_is_noted_nowhere() -> None:
    make_profile()
    Browser().get("/account/login/")

    assert not UserSession.objects.exists()
