"""The demo: built in one go, true in its sums, and open to its three people."""

from datetime import UTC, date, datetime, timedelta
from itertools import groupby, pairwise

import pytest
from django.conf import settings
from django.core.cache import cache
from django.db.models import Sum
from django.test import Client as Browser
from django.urls import resolve

from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.queries import InvoiceRow, row_of
from invoicing.invoices.states import Purpose, Series, Standing
from invoicing.quotes.models import Acceptance, Quote
from invoicing.quotes.states import QuoteState
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from planning.callsheets.models import CallSheet
from planning.checklists.queries import checklist_of
from planning.shoots.choices import Light
from planning.shoots.queries import planned_shoot
from studio.context import PLACES
from studio.demo import Scenery, build_demo
from studio.history.models import JournalEntry
from studio.mail.models import Message
from studio.mail.states import MessageState
from studio.panels import today_items
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.models import StudioProfile
from tests.keyboard import looked_at
from tests.world import assert_world

pytestmark = pytest.mark.django_db

# A day after the autumn clock change, one in June, and one over the turn of a year.
DAYS = (
    datetime(2027, 11, 3, 9, 30, tzinfo=UTC),
    datetime(2027, 6, 21, 9, 30, tzinfo=UTC),
    datetime(2028, 1, 5, 0, 20, tzinfo=UTC),
)


ON_POSTGRES = settings.DATABASES["default"]["ENGINE"].endswith("postgresql")


# Dates are plain code: a second database tells nothing new of more than one.
@pytest.fixture(params=DAYS[: 1 if ON_POSTGRES else 3], ids=lambda day: f"{day:%b}")
def scenery(request: pytest.FixtureRequest) -> Scenery:
    cache.clear()
    return build_demo(Scenery(at=request.param))


def test_the_demo_is_in_order_and_shows_every_stage(scenery: Scenery) -> None:
    assert_world()
    _tells_its_story_in_order()
    _numbers_have_no_gaps()
    _sums_add_up()
    _stands_at_every_stage(scenery)
    _plans_four_set_ups(scenery)
    _plans_a_newborn_by_the_window(scenery)
    _gives_everybody_something_to_do(scenery)
    _lists_two_items_about_one_thing_once(scenery)


def _tells_its_story_in_order() -> None:
    times = list(JournalEntry.objects.order_by("sequence").values_list("at", flat=True))
    assert len(times) > 200
    assert all(
        later - earlier > -timedelta(minutes=2) for earlier, later in pairwise(times)
    )
    assert set(Message.objects.values_list("state", flat=True)) == {MessageState.SENT}


def _numbers_have_no_gaps() -> None:
    papers = Invoice.objects.order_by("series", "year", "place")
    for _, group in groupby(papers, key=lambda paper: (paper.series, paper.year)):
        rows = list(group)
        assert [row.place for row in rows] == list(range(1, len(rows) + 1))
        dates = [row.issued_on for row in rows]
        assert dates == sorted(dates)
    for model in (Job, Quote):
        numbers = sorted(set(model.objects.values_list("number", flat=True)))
        for _, same in groupby(numbers, key=lambda number: number.split("-")[1]):
            places = [int(number.split("-")[2]) for number in same]
            assert places == list(range(1, len(places) + 1))


def _sums_add_up() -> None:
    for invoice in Invoice.objects.prefetch_related("tax_rows"):
        tax = sum(row.tax_minor for row in invoice.tax_rows.all())
        net = sum(row.taxable_minor for row in invoice.tax_rows.all())
        assert (net, tax) == (invoice.net_minor, invoice.tax_minor)
    settled = Acceptance.objects.filter(
        quote__job__stage__in=[JobStage.DELIVERED, JobStage.PAID]
    )
    for yes in settled:
        standing = Invoice.objects.invoices().filter(
            job=yes.quote.job, credit_notes__isnull=True
        )
        sums = standing.aggregate(
            net=Sum("net_minor"), tax=Sum("tax_minor"), gross=Sum("gross_minor")
        )
        # Deposit and rest are the price agreed; a client abroad pays it without tax.
        net = int(yes.agreed_content().totals().net * 100)
        assert sums["net"] == net
        assert sums["gross"] == (yes.total_minor if sums["tax"] else net)
    assert all(row.paid <= row.total for row in _rows(date.max))


def _rows(on: date) -> list[InvoiceRow]:
    papers = Invoice.objects.invoices().with_balance()
    return [row_of(one, on=on) for one in papers.select_related("client", "job")]


def _stands_at_every_stage(scenery: Scenery) -> None:
    stages = set(Job.objects.values_list("stage", flat=True))
    assert stages == set(JobStage) - {JobStage.CANCELLED}
    states = set(Quote.objects.values_list("state", flat=True))
    assert states == set(QuoteState) - {QuoteState.REPLACED, QuoteState.LAPSED}
    statuses = set(Booking.objects.values_list("status", flat=True))
    assert statuses == set(BookingStatus) - {BookingStatus.CANCELLED}
    on = scenery.moment(0).date()
    assert {row.standing for row in _rows(on)} == set(Standing)
    assert Invoice.objects.filter(series=Series.CREDIT_NOTE).count() == 1
    # 720 + 120 + 180 agreed, of which 40 in a hundred are invoiced ahead of the rest.
    assert Invoice.objects.get(purpose=Purpose.STAGE).gross_minor == 40_800
    assert InvoiceDraft.objects.filter(
        purpose=Purpose.DEPOSIT, invoice__isnull=True, dropped_at__isnull=True
    ).exists()
    days = {
        booking.local_start.date() - on
        for booking in Booking.objects.filter(status=BookingStatus.CONFIRMED)
    }
    assert {timedelta(0), timedelta(2)} <= days
    for client in Client.objects.all():
        assert not client.phone or client.phone.startswith("01632 960")
        assert client.email.endswith(".example")


def _plans_four_set_ups(scenery: Scenery) -> None:
    shoot = planned_shoot(Booking.objects.get(pk=scenery.rows["booking.brass"].pk))

    lights = [one.facts.light for one in shoot.set_ups]
    assert lights == [Light.OPEN_SKY, Light.OPEN_SHADE, Light.OPEN_SKY, Light.FLASH]
    assert [one.trouble for one in shoot.set_ups] == [""] * 4
    assert shoot.cautions
    first, _, against, dusk = shoot.set_ups
    assert first.sun_start.altitude_deg > 0 > dusk.sun_start.altitude_deg
    turned = (against.facts.heading_deg - against.sun_start.azimuth_deg + 180) % 360
    assert abs(turned - 180) < 10  # the camera looks to where the sun is


def _plans_a_newborn_by_the_window(scenery: Scenery) -> None:
    booking = Booking.objects.get(pk=scenery.rows["booking.tarrant"].pk)
    shoot = planned_shoot(booking)

    assert [one.facts.light for one in shoot.set_ups] == [Light.WINDOW] * 2
    assert [one.facts.flash_name for one in shoot.set_ups] == [""] * 2
    for one in shoot.set_ups:
        assert one.suggestion is not None
        assert one.suggestion.fits, one.facts.name
        assert (one.fill.lift_stops or 0.0) > 0.5  # the board is worth carrying
    lines = {line.words: line for line in checklist_of(booking).lines}
    assert "no set-up uses it" in lines["Battery flash, large"].reason
    assert "it is not held" in lines["White board, 1 × 2 m"].reason
    assert CallSheet.objects.filter(booking=booking).count() == 1


def _gives_everybody_something_to_do(scenery: Scenery) -> None:
    for name, hat in (
        ("maren", Hat.OWNER),
        ("jory", Hat.PLANNER),
        ("edda", Hat.BOOKKEEPER),
    ):
        assert today_items(scenery.rows[name], scenery.at, [hat])


def _lists_two_items_about_one_thing_once(scenery: Scenery) -> None:
    items = today_items(scenery.rows["maren"], scenery.at, list(Hat))

    about_choir = [item.title for item in items if "Rook Lane Choir" in item.title]
    assert about_choir == ["Send the quote to Rook Lane Choir"]


def test_everybody_of_the_demo_opens_every_place_of_the_bar() -> None:
    build_demo(Scenery(at=datetime.now(UTC)))
    assert StudioProfile.load().set_up_at is not None

    for person in Person.objects.all():
        browser = Browser()
        browser.force_login(person)
        page = browser.get("/today/").content.decode()
        assert "Author portrait for a book jacket" in page
        for label, _, action, path in PLACES:
            if person.may(action):
                assert browser.get(path).status_code == 200, (person, label)
        for job in Job.objects.all()[:5]:
            assert browser.get(job.get_absolute_url()).status_code == 200, job
        if person.is_owner:
            _walk(browser)


def _walk(browser: Browser) -> None:
    """Open one page of every kind that a link leads to; each works by keyboard."""
    todo, seen, faults = ["/today/"], set[str](), dict[str, list[str]]()
    while todo:
        path = todo.pop(0).partition("#")[0]
        name = resolve(path.partition("?")[0]).view_name
        if name in seen:
            continue
        seen.add(name)
        answer = browser.get(path)
        assert answer.status_code in {200, 302}, path
        if answer.headers.get("Content-Type", "").startswith("text/html"):
            lacking, links = looked_at(answer.content.decode())
            todo += links
            if lacking:
                faults[path] = lacking
    assert faults == {}
    assert len(seen) > 120
