import pytest
from django.db import IntegrityError
from django.test import Client as Browser
from django.urls import reverse

from invoicing.prices.basis import price_on
from invoicing.prices.models import PriceItem
from invoicing.tax import PriceBasis
from studio.history.models import JournalEntry
from studio.profile.models import StudioProfile
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db
NEW = "invoicing:price_new"


@pytest.fixture
def owner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person())
    return client


def test_a_price_is_added_changed_and_retired(owner: Browser) -> None:
    owner.post(
        reverse(NEW),
        {"name": "Family session", "unit": "session", "price": "420", "cost": "12.50"},
    )
    item = PriceItem.objects.get()
    assert (item.unit_price_minor, item.cost_minor) == (42_000, 1_250)

    owner.post(
        reverse("invoicing:price_edit", args=[item.pk]),
        {"name": "Family session", "price": "450.00", "retired": "on"},
    )

    item.refresh_from_db()
    assert (item.unit_price_minor, item.retired) == (45_000, True)
    assert not PriceItem.objects.offered().exists()
    verbs = JournalEntry.objects.filter(object_type="invoicing.priceitem")
    assert list(verbs.values_list("verb", flat=True)) == ["added", "changed"]


@pytest.mark.parametrize(
    ("field", "value"), [("price", "-1"), ("price", "x"), ("name", ""), ("rate", "101")]
)
def test_what_is_no_price_is_refused(owner: Browser, field: str, value: str) -> None:
    posted = {"name": "Session", "price": "420"} | {field: value}

    page = owner.post(reverse(NEW), posted)

    assert page.status_code == 422
    assert not PriceItem.objects.exists()


def test_an_own_tax_rate_is_kept_and_an_empty_one_is_the_studios(
    owner: Browser,
) -> None:
    owner.post(reverse(NEW), {"name": "Book", "price": "40", "rate": "5"})
    owner.post(reverse(NEW), {"name": "Session", "price": "420", "rate": ""})

    profile = StudioProfile.load()
    book, session = (PriceItem.objects.get(name=name) for name in ("Book", "Session"))
    assert (book.rate_under(profile), session.rate_under(profile)) == (500, 2000)
    profile.tax_registered = False
    assert book.rate_under(profile) == 0


@pytest.mark.parametrize(
    ("listed_gross", "basis", "minor"),
    [
        (True, "gross", 42_000),
        (True, "net", 35_000),
        (False, "net", 42_000),
        (False, "gross", 50_400),
    ],
)
def test_a_listed_price_is_read_on_either_basis(
    listed_gross: bool, basis: PriceBasis, minor: int
) -> None:
    # 420.00 with 20 % in it is 350.00 before, common practice, no source.
    profile = make_profile(list_prices_include_tax=listed_gross)
    item = PriceItem.objects.create(name="Session", unit_price_minor=42_000)

    assert price_on(item, basis, profile) == minor


def test_the_database_refuses_a_price_below_nothing() -> None:
    with pytest.raises(IntegrityError):
        PriceItem.objects.create(name="Session", unit_price_minor=-1)


@pytest.mark.parametrize("hat", ["planner", "bookkeeper"])
def test_others_see_the_list_without_costs_and_change_nothing(
    client: Browser, hat: str
) -> None:
    make_profile()
    item = PriceItem.objects.create(
        name="Session", unit_price_minor=42_000, cost_minor=1_871
    )
    client.force_login(make_person(hats=hat))

    page = client.get(reverse("invoicing:prices")).content.decode()

    assert "Session" in page
    assert "18.71" not in page
    edit = reverse("invoicing:price_edit", args=[item.pk])
    assert client.get(edit).status_code == 403
    assert client.post(reverse(NEW), {}).status_code == 403
