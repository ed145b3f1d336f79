"""Rates of tax from a date."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from invoicing.prices.models import RateChange
from invoicing.prices.rates import Change, DatedRates
from studio.history.models import JournalEntry
from tests.make import make_person, make_profile

# A rate that went down and up again: 17.5 to 15 % on 1 December 2008, back on
# 1 January 2010, to 20 % on 4 January 2011 (the standard rate of the UK, from memory).
UK = DatedRates(
    (
        Change(date(2008, 12, 1), 1750, 1500),
        Change(date(2010, 1, 1), 1500, 1750),
        Change(date(2011, 1, 4), 1750, 2000),
    )
)


@pytest.mark.parametrize(
    ("day", "rate"),
    [
        (date(2008, 11, 30), 1750),
        (date(2008, 12, 1), 1500),
        (date(2009, 12, 31), 1500),
        (date(2010, 1, 1), 1750),
        (date(2011, 1, 3), 1750),
        (date(2011, 1, 4), 2000),
    ],
)
def test_the_rate_in_force_on_a_day_is_found(day: date, rate: int) -> None:
    assert UK.on(1750, day) == rate


def test_other_rates_stand_and_the_change_itself_is_told() -> None:
    assert UK.on(500, date(2012, 1, 1)) == 500
    assert UK.last_change(500, date(2012, 1, 1)) is None
    assert UK.last_change(1750, date(2011, 6, 1)) == UK.changes[2]
    assert UK.last_change(1750, date(2010, 6, 1)) is None


@pytest.mark.django_db
def test_changes_are_kept_on_their_page_and_said_twice_refused(client: Browser) -> None:
    make_profile()
    client.force_login(make_person())
    path = reverse("invoicing:rate_changes")
    posted = {
        "change-TOTAL_FORMS": "2",
        "change-INITIAL_FORMS": "0",
        "change-0-from_on": "2027-01-04",
        "change-0-was": "20",
        "change-0-becomes": "22.5",
    }

    client.post(path, posted)

    change = RateChange.objects.get()
    assert (change.was_basis_points, change.becomes_basis_points) == (2000, 2250)
    assert JournalEntry.objects.filter(object_type="invoicing.ratechange").exists()
    again = {key.replace("-0-", "-1-"): value for key, value in posted.items()}
    page = client.post(path, posted | again)
    assert page.status_code == 422
    assert "changes twice" in page.content.decode()
    half = client.post(path, posted | {"change-1-was": "5"})
    assert "Give the day and both rates." in half.content.decode()
    assert RateChange.objects.count() == 1
