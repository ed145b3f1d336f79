"""What the tests of this folder start from."""

import pytest
from django.test import Client as Browser

from jobs.jobs.models import Job
from studio.people.models import Person
from tests.make import (
    make_job,
    make_person,
    make_profile,
)


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


@pytest.fixture
def browser(ada: Person) -> Browser:
    browser = Browser()
    browser.force_login(ada)
    return browser


@pytest.fixture
def job(ada: Person) -> Job:
    return make_job(by=ada)
