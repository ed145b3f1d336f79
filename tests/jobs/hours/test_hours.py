from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.invoices.hourly import hourly_pay
from jobs.hours.forms import read_minutes
from jobs.hours.models import WorkedTime
from jobs.hours.operations import NoClockError, start_clock, stop_clock
from jobs.hours.queries import time_words, work_on
from tests.make import NOON, make_job, make_person, make_profile
from tests.make_invoicing import make_invoice


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("45", 45), ("1:30", 90), ("1.5 h", 90), ("1,25h", 75), ("2 h 10", 130)],
)
def test_a_time_is_read_as_people_write_it(text: str, minutes: int) -> None:
    assert read_minutes(text) == minutes


@pytest.mark.parametrize("text", ["", "soon", "-5", "1:75", "1e3"])
def test_what_is_no_time_is_not_read(text: str) -> None:
    assert read_minutes(text) is None


def test_minutes_are_said_as_hours() -> None:
    assert [time_words(one) for one in (45, 120, 200)] == [
        "45 min",
        "2 h",
        "3 h 20 min",
    ]


@pytest.mark.django_db
def test_one_clock_runs_a_person_and_an_overnight_one_is_cut() -> None:
    ada, first = make_person(), make_job()
    second = make_job("Other")
    start_clock(job=first, by=ada, at=NOON)
    start_clock(job=second, by=ada, at=NOON + timedelta(minutes=40))

    stop_clock(by=ada, at=NOON + timedelta(days=2))

    assert work_on(first, person=ada).minutes == 40
    assert work_on(second, person=ada).minutes == 16 * 60
    with pytest.raises(NoClockError):
        stop_clock(by=ada, at=NOON)


@pytest.mark.django_db
@pytest.mark.usefixtures("noon")
def test_time_is_noted_by_stage_and_taken_back_and_pays_by_the_hour() -> None:
    make_profile()
    ada, browser = make_person(), Browser()
    browser.force_login(ada)
    job = make_invoice(by=ada).job
    url = f"/jobs/{job.pk}/time/"

    bad = browser.post(url, {"minutes": "soon", "stage": "SHOT", "words": "Retouching"})
    browser.post(url, {"minutes": "2 h", "stage": "SHOT", "words": "Retouching"})
    browser.post(f"{url}start/")
    page = browser.get(job.get_absolute_url()).content.decode()

    assert "Give a time such as 45" in bad.content.decode()
    assert 'value="Retouching"' in bad.content.decode()
    assert "Stop the clock" in page
    assert "by what is invoiced" in page
    pay = hourly_pay(job, minutes=120)
    assert pay is not None
    assert (pay.net.minor, pay.hourly.minor) == (83_35, 41_68)  # half, rounded

    worked = WorkedTime.objects.get(words="Retouching")
    browser.post(f"{url}{worked.pk}/drop/")
    assert work_on(job, person=ada).minutes == 0
