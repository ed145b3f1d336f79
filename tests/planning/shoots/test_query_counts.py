"""How often the pages of a session ask the database, however long its plan is."""

from datetime import timedelta

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from planning.shoots.models import ShootPlan
from studio.profile.models import StudioProfile, read_once
from tests.make import make_person
from tests.make_planning import EVENING, make_set_up, make_shoot

pytestmark = pytest.mark.django_db
MOST_ON_THE_JOB, MOST_ON_THE_PLAN, MOST_IN_THE_EDITOR = 26, 15, 20


def test_the_pages_of_a_session_share_what_they_read(
    client: Browser, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    booking = make_shoot()
    plan = ShootPlan.objects.get()
    for number in range(6):
        make_set_up(plan, EVENING + timedelta(minutes=10 * number))
    client.force_login(make_person("Cass Ives"))
    first = plan.set_ups.order_by("position")[0]
    client.get("/jobs/")  # the first page notes where somebody is signed in

    for url, most in (
        (booking.job.get_absolute_url(), MOST_ON_THE_JOB),
        (f"/plan/{booking.pk}/", MOST_ON_THE_PLAN),
        (f"/plan/{booking.pk}/what-if/", MOST_ON_THE_PLAN + 3),
        (f"/plan/set-up/{first.pk}/", MOST_IN_THE_EDITOR),
    ):
        with django_assert_max_num_queries(most):
            assert client.get(url).status_code == 200


def test_the_studios_row_is_read_once_while_a_page_is_shown(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    StudioProfile.load()

    with django_assert_num_queries(1), read_once():
        first, second = StudioProfile.load(), StudioProfile.load()
        first.trading_name = "Typed and not saved"

    assert second.trading_name != first.trading_name
    with django_assert_num_queries(2):
        StudioProfile.load()
        StudioProfile.load()


def test_what_is_posted_reads_the_studio_afresh(client: Browser) -> None:
    StudioProfile.load()
    client.get("/account/login/")
    StudioProfile.objects.update(trading_name="Renamed meanwhile")

    assert StudioProfile.load().trading_name == "Renamed meanwhile"
