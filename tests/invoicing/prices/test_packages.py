"""Packages of the price list: one price, shared over the rates of tax in it."""

import pytest
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.packages import Part, lines_by_rate
from invoicing.prices.queries import groups_of_prices
from tests.make import make_person, make_profile

SESSION = Part(
    name="Session",
    quantity_thousandths=1000,
    listed_minor=30_000,
    cost_minor=1_000,
    rate=2000,
)
BOOK = Part(
    name="Book",
    quantity_thousandths=2000,
    listed_minor=10_000,
    cost_minor=6_000,
    rate=500,
)
PARTS = st.builds(
    Part,
    name=st.just("Thing"),
    quantity_thousandths=st.integers(1, 9_000),
    listed_minor=st.integers(0, 10**7),
    cost_minor=st.integers(0, 10**6),
    rate=st.sampled_from([0, 500, 1000, 2000]),
)


def test_parts_of_one_rate_are_one_line() -> None:
    (line,) = lines_by_rate(27_000, [SESSION, SESSION])

    assert (line.price_minor, line.cost_minor, line.rate) == (27_000, 2_000, 2000)
    assert line.words == "Session; Session"


def test_a_price_is_shared_over_rates_as_the_list_would_have_it() -> None:
    # By hand: the list says 300.00 and 100.00, the package costs 350.00, so three
    # quarters of it, 262.50, are for the session and 87.50 for the books.
    session, books = lines_by_rate(35_000, [SESSION, BOOK])

    assert (session.price_minor, session.rate) == (26_250, 2000)
    assert (books.price_minor, books.rate, books.words) == (8_750, 500, "2 × Book")


@settings(max_examples=40)
@given(st.integers(0, 10**7), st.lists(PARTS, min_size=1, max_size=8))
def test_the_lines_of_a_package_add_up_to_its_price(
    price_minor: int, parts: list[Part]
) -> None:
    lines = lines_by_rate(price_minor, parts)

    assert sum(line.price_minor for line in lines) == price_minor
    assert all(line.price_minor >= 0 for line in lines)
    assert len({line.rate for line in lines}) == len(lines)
    assert sum(line.cost_minor for line in lines) == sum(
        one.cost_minor for one in parts
    )


@pytest.mark.django_db
def test_a_package_is_filled_on_its_page_and_listed_with_its_parts(
    client: Browser,
) -> None:
    make_profile()
    client.force_login(make_person())
    session = PriceItem.objects.create(name="Session", unit_price_minor=42_000)
    kind = f"{reverse('invoicing:price_new')}?kind=PACKAGE"
    answer = client.post(kind, {"name": "Afternoon", "price": "495"})
    package = PriceItem.objects.get(kind=PriceKind.PACKAGE)
    assert answer["Location"] == reverse("invoicing:price_edit", args=[package.pk])

    client.post(
        answer["Location"],
        {
            "name": "Afternoon",
            "price": "495",
            "part-TOTAL_FORMS": "2",
            "part-INITIAL_FORMS": "0",
            "part-0-item": str(session.pk),
            "part-0-quantity": "2",
            "part-1-item": "",
        },
    )

    part = package.parts.get()
    assert (part.item, part.quantity_thousandths) == (session, 2000)
    (row,) = groups_of_prices()[0].rows
    assert row.more == "2 × Session"
    assert "£840.00" in client.get(answer["Location"]).content.decode()
