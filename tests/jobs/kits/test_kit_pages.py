from typing import Any

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.operations import confirm_booking
from jobs.kits.figures import FIGURES, OF_CATEGORY, limits_of, names_of
from jobs.kits.models import Kit, KitCategory, KitItem
from jobs.kits.operations import KitContent, keep_kit
from jobs.kits.queries import kit_shelf
from tests.make import NOON, make_booking, make_item, make_person, make_profile
from tests.studio.markup import Markup

NO_LINES = {"one_of-TOTAL_FORMS": "0", "one_of-INITIAL_FORMS": "0"}
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def browser() -> Browser:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats="planner"))
    return browser


def boxes(html: str) -> set[str]:
    return {attrs["name"] for attrs in Markup(html).of("input") if "name" in attrs}


@pytest.mark.parametrize("category", KitCategory)
def test_an_item_is_asked_for_the_figures_of_its_category_only(
    browser: Browser, category: KitCategory
) -> None:
    html = browser.get(f"/kit/new/?category={category}").content.decode()

    assert boxes(html) & set(FIGURES) == set(names_of(category))


def test_every_figure_belongs_to_a_category_and_to_the_table() -> None:
    named = {name for category in OF_CATEGORY for name in names_of(category)}
    columns = {field.name for field in KitItem._meta.get_fields()}

    assert named == set(FIGURES)
    assert set(FIGURES) <= columns


def test_a_lens_is_added_with_its_limits(browser: Browser) -> None:
    answers = {
        "name": "70–200 mm",
        "focal_length_mm": "70",
        "longest_focal_length_mm": "200",
        "widest_f_number": "2.8",
        "close_focus_m": "0.95",
    }

    browser.post("/kit/new/?category=LENS", answers)

    lens = KitItem.objects.get()
    assert lens.category == KitCategory.LENS
    assert limits_of(lens) == "70–200 mm, widest f/2.8, close focus 0.95 m"
    page = browser.get("/kit/").content.decode()
    assert limits_of(lens) in page


def test_a_camera_and_a_flash_say_what_they_can_do() -> None:
    camera = make_item(
        "Camera",
        KitCategory.CAMERA,
        sensor_width_mm=36.0,
        sensor_height_mm=24.0,
        base_iso=100,
        highest_iso=12_800,
        sync_denominator=200,
        fastest_denominator=8000,
    )
    flash = make_item("Flash", KitCategory.FLASH, guide_number_m=58.0, recycle_s=1.2)
    gel = make_item("Gel", KitCategory.FILTER, loss_stops=0.7)

    assert limits_of(camera) == (
        "36 × 24 mm, sync 1/200 s, up to 1/8000 s, ISO 100–12,800"
    )
    assert limits_of(flash) == "guide number 58 m at ISO 100, recycles in 1.2 s"
    assert limits_of(gel) == "takes 0.7 stops"
    assert limits_of(make_item()) == ""


@pytest.mark.parametrize(
    ("category", "answers", "said"),
    [
        ("LENS", {"name": ""}, "Fill in “Name”."),
        ("LENS", {"focal_length_mm": "-3"}, "greater than or equal to 4"),
        ("LENS", {"widest_f_number": "nan"}, "Enter a number."),
        ("LENS", {"widest_f_number": "1e400"}, "Enter a number."),
        (
            "LENS",
            {"focal_length_mm": "200", "longest_focal_length_mm": "70"},
            "This is less than the figure beside it.",
        ),
        ("CAMERA", {"sensor_width_mm": "36"}, "Give both sides of the sensor."),
        ("CAMERA", {"base_iso": "99999999999"}, "less than or equal to 6400"),
        ("CAMERA", {"sync_denominator": "1.5"}, "Enter a whole number."),
    ],
)
def test_bad_figures_get_their_sentence(
    browser: Browser, category: str, answers: dict[str, str], said: str
) -> None:
    page = browser.post(f"/kit/new/?category={category}", {"name": "X"} | answers)

    assert said in page.content.decode()
    assert not KitItem.objects.exists()


def test_an_item_that_was_put_in_the_wrong_category_is_moved(browser: Browser) -> None:
    lens = make_item("Tripod", KitCategory.LENS, focal_length_mm=50.0)

    browser.post(f"/kit/{lens.pk}/?category=SUPPORT", {"name": "Tripod"})

    lens.refresh_from_db()
    assert (lens.category, lens.focal_length_mm) == (KitCategory.SUPPORT, None)


def test_figures_are_shown_without_needless_zeros(browser: Browser) -> None:
    lens = make_item("85", KitCategory.LENS, focal_length_mm=85.0, widest_f_number=1.8)

    html = browser.get(f"/kit/{lens.pk}/").content.decode()

    assert 'name="focal_length_mm" value="85"' in html
    assert 'name="widest_f_number" value="1.8"' in html


def test_an_item_is_retired_and_taken_back(browser: Browser) -> None:
    item = make_item()

    browser.post(f"/kit/{item.pk}/retire/")
    shelf = kit_shelf()
    browser.post(f"/kit/{item.pk}/retire/")

    assert shelf.categories == ()
    assert [row.name for row in shelf.retired] == ["Tripod"]
    item.refresh_from_db()
    assert not item.retired


def test_retiring_what_a_session_counts_on_says_so(browser: Browser) -> None:
    item = make_item()
    booking = make_booking(items=(item,))
    confirm_booking(booking_id=booking.pk, by=booking.job.owner, at=NOON)

    page = browser.post(f"/kit/{item.pk}/retire/", follow=True).content.decode()

    assert "Shop portraits still counts on it" in page
    held = browser.get(f"/kit/{item.pk}/").content.decode()
    assert "kept for it" in held


def test_a_kit_is_made_changed_and_broken_up(browser: Browser) -> None:
    lens, tripod = make_item("85 mm", KitCategory.LENS), make_item()
    answers: dict[str, Any] = {
        "name": "Outdoors",
        "items_lens": [lens.pk],
        **NO_LINES,
    }

    browser.post("/kit/sets/new/", answers)
    kit = Kit.objects.get()
    made = [item.name for item in kit.items.all()]
    browser.post(kit.get_absolute_url(), answers | {"items_support": [tripod.pk]})
    changed = {item.name for item in kit.items.all()}
    page = browser.get("/kit/").content.decode()
    browser.post(f"{kit.get_absolute_url()}break-up/")

    assert made == ["85 mm"]
    assert changed == {"85 mm", "Tripod"}
    assert "Outdoors" in page
    assert not Kit.objects.exists()
    assert KitItem.objects.count() == 2


def test_a_kit_takes_one_of_several(browser: Browser) -> None:
    first, second, lens = make_item("A"), make_item("B"), make_item("Lens")
    line = {"one_of-TOTAL_FORMS": "1", "one_of-INITIAL_FORMS": "0", "name": "Bag"}

    alone = browser.post("/kit/sets/new/", line | {"one_of-0-first": first.pk})
    twice = browser.post(
        "/kit/sets/new/",
        line | {"one_of-0-first": first.pk, "one_of-0-second": first.pk},
    )
    more = browser.post("/kit/sets/new/", line | {"add_line": "1"})
    browser.post(
        "/kit/sets/new/",
        line | {"one_of-0-first": second.pk, "one_of-0-second": lens.pk},
    )
    kit = Kit.objects.get()
    shown = browser.get(kit.get_absolute_url()).content.decode()

    assert "Name another, or tick the one above." in alone.content.decode()
    assert "stands here twice" in twice.content.decode()
    assert 'name="one_of-1-first"' in more.content.decode()
    assert [row.item for row in kit.alternatives.all()] == [second, lens]
    assert f'<option value="{second.pk}" selected>' in shown


def test_two_kits_do_not_share_a_name(browser: Browser) -> None:
    ada = make_person()
    for name in ("Outdoors", "Indoors"):
        keep_kit(name=name, holds=KitContent(), by=ada, at=NOON)
    kit = Kit.objects.get(name="Indoors")

    new = browser.post(
        "/kit/sets/new/", {"name": "outdoors", **NO_LINES}
    ).content.decode()
    old = browser.post(
        kit.get_absolute_url(), {"name": "Outdoors", **NO_LINES}
    ).content.decode()

    assert "Another kit has this name." in new
    assert "Another kit has this name." in old


def test_the_shelf_takes_four_queries(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    items = [make_item(f"Item {n}", KitCategory.OTHER) for n in range(20)]
    for name in ("One", "Two", "Three"):
        keep_kit(
            name=name,
            holds=KitContent(item_ids=[item.pk for item in items]),
            by=make_person(),
            at=NOON,
        )

    with django_assert_num_queries(4):
        shelf = kit_shelf()
    assert len(shelf.kits) == 3


def test_a_bookkeeper_sees_no_kit() -> None:
    make_profile()
    browser = Browser()
    browser.force_login(make_person(hats="bookkeeper"))

    for path in ("/kit/", "/kit/new/", f"/kit/{make_item().pk}/", "/kit/sets/new/"):
        assert browser.get(path).status_code == 403
