"""The studio's own time and costs while quoting, licences, and proposed lines."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.utils import timezone

from invoicing.prices.models import PackagePart, PriceItem, PriceKind, RateChange
from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.figures import every_figures_of, figures_of
from invoicing.quotes.licences import licences_of
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import LineWish
from invoicing.quotes.session_forms import saved_session
from invoicing.quotes.worth_a_look import worth_a_look
from studio.money import Money
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person
from tests.make_quotes import (
    SESSION,
    TERMS,
    fresh_draft,
    make_quote,
    open_quote,
    path_of,
    posted_quote,
    sent_quote,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]
PLANNED = replace(
    TERMS,
    planned_minutes=450,
    assistant_cost_minor=8_000,
    travel_cost_minor=1_500,
    other_cost_minor=500,
)


def test_what_is_left_its_share_and_its_hours_are_worked_by_hand() -> None:
    # 420.00 with 20 % in it is 350.00 before; own costs 20.00 of the line and 100.00
    # beside it leave 230.00, 66 % of 350.00; over 7.5 hours that is 30.67 an hour, and
    # 7.5 hours at 25.00 are 187.50, so 42.50 is left beyond them.
    quote = make_quote(lines=(replace(SESSION, cost_minor=2_000),), terms=PLANNED)
    StudioProfile.objects.update(hour_worth_minor=2_500)

    figures = figures_of(quote)

    assert figures.costs == Money.from_minor(12_000, "GBP")
    assert figures.left == Money.from_minor(23_000, "GBP")
    assert (figures.margin, figures.hours) == ("66%", "7.5")
    assert figures.an_hour == Money.from_minor(3_067, "GBP")
    assert figures.time_worth == Money.from_minor(18_750, "GBP")
    assert figures.beyond == Money.from_minor(4_250, "GBP")


def test_each_package_leaves_its_own() -> None:
    small = replace(SESSION, package="Small", cost_minor=1_000)
    large = replace(small, package="Large", unit_price_minor=60_000)

    every = dict(every_figures_of(make_quote(lines=(small, large))))

    assert every["Small"].left == Money.from_minor(34_000, "GBP")
    assert every["Large"].left == Money.from_minor(49_000, "GBP")


def test_own_time_and_costs_reach_no_client(client: Browser) -> None:
    secret = replace(PLANNED, assistant_cost_minor=7_777)
    until = timezone.now().date() + timedelta(days=9)
    quote = open_quote(terms=replace(secret, valid_until_on=until))

    page = client.get(path_of(quote)).content.decode()

    assert "77.77" not in page
    assert "planned" not in str(quote.snapshot)
    assert "7777" not in str(quote.snapshot)


def test_a_planner_keeps_costs_that_are_not_theirs_to_see(client: Browser) -> None:
    quote = fresh_draft(terms=replace(PLANNED, valid_until_on=date(2099, 1, 1)))
    client.force_login(make_person("Jo Planner", hats="planner"))
    page = client.get(quote.get_absolute_url()).content.decode()
    assert "What it leaves you" not in page
    line = {"description": "Session", "quantity": "1", "price": "420"}
    posted = posted_quote([line], edit_version=str(quote.edit_version))

    client.post(quote.get_absolute_url(), posted)

    quote.refresh_from_db()
    assert (quote.planned_minutes, quote.assistant_cost_minor) == (450, 8_000)


def test_a_bought_licence_is_told_on_the_job_with_its_last_day() -> None:
    use = replace(SESSION, description="Brochure use", licence_months=24)
    not_taken = replace(use, description="World use", optional=True)
    quote = sent_quote(lines=(use, not_taken))
    answer = accept_quote(quote_id=quote.pk, yes=Yes(name="Merle"), at=NOON)
    job = quote.job

    (before,) = licences_of(job, answer)
    job.delivered_at = NOON
    (after,) = licences_of(job, answer)

    assert (before.title, before.length, before.last_day) == (
        "Brochure use",
        "two years",
        None,
    )
    assert after.last_day == date(2028, 6, 20)  # NOON is 21 June 2026
    assert licences_of(job, None) == []


def test_a_package_of_the_list_becomes_lines_as_such_or_as_a_choice(
    client: Browser,
) -> None:
    quote = fresh_draft(lines=())
    session = PriceItem.objects.create(name="Session", unit_price_minor=42_000)
    package = PriceItem.objects.create(
        kind=PriceKind.PACKAGE, name="Afternoon", unit_price_minor=39_500
    )
    PackagePart.objects.create(package=package, item=session, position=1)
    client.force_login(quote.job.owner)
    posted = posted_quote([]) | {"package_item": str(package.pk)}

    quoted = client.post(quote.get_absolute_url(), posted | {"add_package": "1"})
    offered = client.post(quote.get_absolute_url(), posted | {"offer_package": "1"})

    text = quoted.content.decode()
    assert 'value="395.00"' in text
    assert 'value="Session"' in text
    assert 'name="line-0-package" value="Afternoon"' not in text
    assert 'name="line-0-package" value="Afternoon"' in offered.content.decode()
    assert not quote.lines.exists()


def test_the_rate_in_force_on_the_day_of_the_session_is_proposed(
    client: Browser,
) -> None:
    quote = fresh_draft(lines=())
    item = PriceItem.objects.create(name="Hour", unit_price_minor=12_000)
    starts = quote.job.bookings.get().starts_at.date()
    RateChange.objects.create(
        from_on=starts, was_basis_points=2000, becomes_basis_points=2200
    )
    client.force_login(quote.job.owner)
    posted = posted_quote([]) | {"price_item": str(item.pk), "add_price": "1"}

    without = client.post(quote.get_absolute_url(), posted).content.decode()

    assert '<option value="2000" selected>' in without  # no session typed: today's
    typed = LineWish(description="Hour", unit_price_minor=1, tax_rate_basis_points=2000)
    notes = worth_a_look(quote, [typed], saved_session(quote))
    assert "A rate of tax changes" in [note.title for note in notes]


def test_the_way_to_the_session_is_proposed_and_added_when_asked(
    client: Browser,
) -> None:
    quote = fresh_draft(lines=())
    place = quote.job.bookings.get().place
    StudioProfile.objects.update(
        home_latitude=place.latitude_deg + 0.1, home_longitude=place.longitude_deg
    )
    PriceItem.objects.create(
        kind=PriceKind.TRAVEL, name="Near", unit_price_minor=1_500, up_to_distance=20
    )
    client.force_login(quote.job.owner)
    page = client.get(quote.get_absolute_url()).content.decode()
    # By hand: 0.1 degree is 11.12 km; 1.3 times that is 14.46 km, 8.98 miles.
    assert "about 9 miles each way" in page
    assert not Quote.objects.get().lines.exists()


def test_one_press_after_the_other_leaves_no_half_filled_row(client: Browser) -> None:
    quote = fresh_draft(lines=())
    item = PriceItem.objects.create(name="Hour", unit_price_minor=12_000)
    client.force_login(quote.job.owner)
    posted = posted_quote([{"quantity": "1"}]) | {"price_item": str(item.pk)}
    filled = {
        "line-TOTAL_FORMS": "2",
        "line-0-description": "Hour",
        "line-0-price": "120",
        "line-1-quantity": "1",
    }

    first = client.post(quote.get_absolute_url(), posted | {"add_price": "1"})
    second = client.post(quote.get_absolute_url(), posted | filled | {"add_price": "1"})

    for page, rows in ((first, 2), (second, 3)):
        text = page.content.decode()
        assert f'name="line-TOTAL_FORMS" value="{rows}"' in text
        assert f'name="line-{rows - 1}-quantity" value="1"' in text
