from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from invoicing.prices.models import PriceItem
from invoicing.quotes.models import Quote
from jobs.clients.models import ClientKind
from jobs.jobs.models import Job
from tests.make import make_booking, make_client, make_job, make_person, make_place
from tests.make import make_profile as set_up
from tests.make_quotes import make_quote, posted_quote

pytestmark = pytest.mark.django_db

SESSION = {
    "description": "Family session",
    "quantity": "1",
    "unit": "session",
    "price": "420",
}
PICTURES = {"description": "Pictures", "quantity": "8", "price": "35.00"}


@pytest.fixture
def owner(client: Browser) -> Browser:
    set_up()
    client.force_login(make_person("Wren Owner"))
    return client


@pytest.fixture
def job(owner: Browser) -> Job:
    return make_job("Your family session")


def start(job: Job) -> str:
    return reverse("invoicing:quote_start", args=[job.pk])


def test_the_first_save_makes_the_quote(owner: Browser, job: Job) -> None:
    assert owner.get(start(job)).status_code == 200
    assert not Quote.objects.exists()

    answer = owner.post(start(job), posted_quote([SESSION, PICTURES]))

    quote = Quote.objects.get()
    assert answer["Location"] == quote.get_absolute_url()
    assert [line.description for line in quote.lines.all()] == [
        "Family session",
        "Pictures",
    ]
    assert quote.deposit_percent == 25
    page = owner.get(quote.get_absolute_url()).content.decode()
    assert "£700.00" in page
    assert "£175.00" in page


def test_a_session_typed_in_the_builder_is_proposed(owner: Browser, job: Job) -> None:
    place = make_place("Priory garden")
    day = (timezone.now() + timedelta(days=30)).date()

    owner.post(
        start(job),
        posted_quote(
            [SESSION],
            session_on=day.isoformat(),
            starts="14:30",
            ends="16:00",
            place=str(place.pk),
        ),
    )

    booking = job.bookings.get()
    assert booking.local_start.strftime("%H:%M") == "14:30"
    assert booking.ends_at - booking.starts_at == timedelta(minutes=90)
    assert Quote.objects.get().booking == booking


def test_a_session_past_midnight_ends_on_the_next_day(owner: Browser, job: Job) -> None:
    place = make_place()
    posted = posted_quote(
        [SESSION],
        session_on="2027-06-20",
        starts="21:00",
        ends="01:00",
        place=str(place.pk),
    )

    owner.post(start(job), posted)

    booking = job.bookings.get()
    assert booking.ends_at - booking.starts_at == timedelta(hours=4)


def test_a_session_through_the_autumn_change_keeps_its_real_length(
    owner: Browser, job: Job
) -> None:
    place = make_place()
    posted = posted_quote(
        [SESSION],
        session_on="2027-10-30",
        starts="23:00",
        ends="03:00",
        place=str(place.pk),
    )

    owner.post(start(job), posted)

    booking = job.bookings.get()
    assert booking.ends_at - booking.starts_at == timedelta(hours=5)


def test_half_a_session_is_asked_for_and_nothing_is_saved(
    owner: Browser, job: Job
) -> None:
    posted = posted_quote([SESSION], session_on="2027-06-20", starts="21:00")

    page = owner.post(start(job), posted)

    assert page.status_code == 422
    assert "Say when the session ends." in page.content.decode()
    assert not Quote.objects.exists()


def test_a_price_that_held_until_yesterday_is_refused_beside_the_field(
    owner: Browser, job: Job
) -> None:
    posted = posted_quote([SESSION], valid_until_on="2020-01-01")

    page = owner.post(start(job), posted)

    text = page.content.decode()
    assert page.status_code == 422
    assert "Give a date after today" in text
    assert 'href="#id_valid_until_on"' in text
    assert 'value="Family session"' in text


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("line-0-price", "free", "Write the amount in figures"),
        ("line-0-price", "1e9", "Write the amount in figures"),
        ("line-0-price", "999999999999", "too large"),
        ("line-0-quantity", "0", "greater than or equal to 0.001"),
        ("line-0-quantity", "nan", "Enter a number"),
        ("line-0-quantity", "1e99", "less than or equal to 100000"),
        ("line-0-description", "x" * 201, "at most 200 characters"),
        ("deposit", "101", "from 0 to 100"),
        ("deposit", "NaN", "percentage in figures"),
        ("deposit", "12.5", "whole per cent"),
        ("discount", "lots", "percentage in figures"),
        ("session_on", "soon", "Write a day that exists"),
        ("place", "999999", "Select a valid choice"),
    ],
)
def test_hostile_figures_are_refused_in_words(
    owner: Browser, job: Job, field: str, value: str, said: str
) -> None:
    page = owner.post(start(job), posted_quote([SESSION], **{field: value}))

    assert page.status_code == 422
    assert said in page.content.decode()
    assert not Quote.objects.exists()


def test_lines_are_added_from_the_price_list_and_taken_out_without_script(
    owner: Browser, job: Job
) -> None:
    item = PriceItem.objects.create(
        name="Framed print", unit_price_minor=9_500, cost_minor=4_100, is_extra=True
    )
    posted = posted_quote([SESSION, {}], add_price="1", price_item=str(item.pk))
    page = owner.post(start(job), posted).content.decode()

    assert 'value="Framed print"' in page
    assert 'value="95.00"' in page
    assert 'class="problem"' not in page

    grown = posted_quote(
        [
            SESSION | {"DELETE": "on"},
            {
                "description": "Framed print",
                "quantity": "2",
                "price": "95",
                "optional": "on",
                "cost": "41.00",
                "source": f"P{item.pk}",
            },
            PICTURES,
        ]
    )
    owner.post(start(job), grown)

    lines = list(Quote.objects.get().lines.all())
    assert [line.description for line in lines] == ["Framed print", "Pictures"]
    assert (lines[0].optional, lines[0].cost_minor) == (True, 4_100)


def test_add_line_gives_one_more_row_and_calls_nothing_wrong(
    owner: Browser, job: Job
) -> None:
    posted = posted_quote([{"description": "Half done"}], add_line="1")

    page = owner.post(start(job), posted | {"valid_until_on": ""}).content.decode()

    assert 'name="line-TOTAL_FORMS" value="2"' in page
    assert 'value="Half done"' in page
    assert "field-error" not in page


def test_the_totals_follow_while_typing_and_nothing_is_saved(
    owner: Browser, job: Job
) -> None:
    make_booking(job=job)
    url = reverse("invoicing:quote_preview", args=[job.pk])
    half = {"description": "Not priced yet", "quantity": "2"}
    posted = posted_quote([SESSION, half, PICTURES], discount="10")

    text = owner.post(url, posted).content.decode()

    assert "£630.00" in text  # 700 less a tenth
    assert "£157.50" in text
    assert '<output id="amount-1" hx-swap-oob="true">–</output>' in text
    assert '<output id="amount-2" hx-swap-oob="true">280.00</output>' in text
    assert not Quote.objects.exists()


@pytest.mark.parametrize("bad", ["line-TOTAL_FORMS", "deposit_in", "place"])
def test_the_preview_bears_a_broken_form(owner: Browser, job: Job, bad: str) -> None:
    url = reverse("invoicing:quote_preview", args=[job.pk])

    answer = owner.post(url, posted_quote([SESSION], **{bad: "x"}))

    assert answer.status_code == 200


def test_a_stale_save_shows_both_and_loses_nothing(owner: Browser, job: Job) -> None:
    quote = make_quote(job)
    url = quote.get_absolute_url()
    mine = posted_quote([SESSION | {"description": "Mine"}], edit_version="1")

    page = owner.post(url, mine)
    text = page.content.decode()

    assert page.status_code == 409
    assert 'value="Mine"' in text
    assert "Family session" in text
    assert "What stands now" in text
    assert f'name="edit_version" value="{quote.edit_version}"' in text
    again = owner.post(url, mine | {"edit_version": str(quote.edit_version)})
    assert again.status_code == 302
    assert Quote.objects.get().lines.get().description == "Mine"


def test_notes_tell_of_dusk_of_the_list_and_of_the_same_day(
    owner: Browser, job: Job
) -> None:
    PriceItem.objects.create(name="Family session", unit_price_minor=45_000)
    start_at = timezone.now().replace(hour=20, minute=0) + timedelta(days=10)
    make_booking(job=job, starts_at=start_at, hours=3.5)
    other = make_booking(
        job=make_job("Priory recce", client=make_client("Other")),
        starts_at=start_at - timedelta(hours=4),
        hours=1,
    )
    other.status = "PENCILLED"
    other.save()
    quote = make_quote(job)

    page = owner.get(quote.get_absolute_url()).content.decode()

    assert "your price list says £450.00" in page
    assert "Priory recce is" in page
    assert "3 h lie between" in page


def test_a_planner_drafts_but_neither_sees_nor_loses_the_costs(
    client: Browser,
) -> None:
    set_up()
    planner = make_person("Sol Planner", hats="planner")
    client.force_login(planner)
    job = make_job(by=make_person("Wren Owner"))
    item = PriceItem.objects.create(
        name="Assistant", unit_price_minor=2_200, cost_minor=1_871
    )
    line = {"description": "Assistant", "quantity": "4", "price": "22"}
    client.post(start(job), posted_quote([line | {"source": f"P{item.pk}"}]))
    quote = Quote.objects.get()
    kept = quote.lines.get()
    assert kept.cost_minor == 1_871

    page = client.get(quote.get_absolute_url()).content.decode()
    for secret in ("18.71", "1871", "own cost", "Left for you", "74.84"):
        assert secret not in page
    assert "Send to client" not in page
    changed = posted_quote(
        [line | {"quantity": "5", "source": f"L{kept.pk}", "cost": "1"}],
        edit_version=str(quote.edit_version),
    )
    client.post(quote.get_absolute_url(), changed)
    assert quote.lines.get().cost_minor == 1_871
    preview = reverse("invoicing:quote_preview", args=[job.pk])
    assert "Left for you" not in client.post(preview, changed).content.decode()


def test_an_organisation_is_quoted_before_tax(owner: Browser) -> None:
    firm = make_client("Saltpan Brass", kind=ClientKind.ORGANISATION)
    job = make_job(client=firm)

    owner.post(start(job), posted_quote([SESSION]))

    page = owner.get(Quote.objects.get().get_absolute_url()).content.decode()
    assert "VAT at 20%" in page
    assert "£504.00" in page


def test_outside_tax_the_builder_has_no_tax_words(client: Browser) -> None:
    set_up(tax_registered=False)
    client.force_login(make_person())
    job = make_job()

    client.post(start(job), posted_quote([SESSION]))

    page = client.get(Quote.objects.get().get_absolute_url()).content.decode()
    assert "VAT" not in page
    assert "£420.00" in page


def test_the_builder_asks_the_same_number_of_questions_for_more_lines(
    owner: Browser, job: Job, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    owner.post(start(job), posted_quote([SESSION] * 40))
    quote = Quote.objects.get()

    with django_assert_max_num_queries(45):
        owner.get(quote.get_absolute_url())


@pytest.mark.parametrize(
    "text", ['<img src="file:///etc/passwd"/> & Söhne', "Πορτρέτο Анна", "x" * 200]
)
def test_ugly_words_come_back_as_they_were(owner: Browser, job: Job, text: str) -> None:
    owner.post(start(job), posted_quote([SESSION | {"description": text}]))

    quote = Quote.objects.get()
    page = owner.get(quote.get_absolute_url()).content.decode()
    assert quote.lines.get().description == text
    assert "<img src=" not in page
