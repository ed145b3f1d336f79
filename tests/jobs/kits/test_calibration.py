"""One test frame tells a flash's real guide number, or what a modifier takes."""

import pytest
from django.test import Client as Browser

from jobs.kits.calibrating import ProofFrame, guide_words, keep_guide_number, keep_loss
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.lighting import first_flash
from planning.shoots.models import SetUp
from studio.history.models import JournalEntry
from tests.make import NOON, make_item, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]
BARE = {"distance_m": "4", "power": "1/1", "iso": "100", "f_number": "11.5"}


@pytest.fixture
def browser(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person(hats="planner"))
    return client


def a_flash() -> KitItem:
    return make_item("Battery flash", KitCategory.FLASH, guide_number_m=58.0)


def test_the_units_own_guide_number_is_kept_beside_the_makers(browser: Browser) -> None:
    # By hand: f/11.5 at 4 m is guide number 46; 2 log2(46/58) is -0.67 stop.
    flash = a_flash()

    page = browser.post(
        f"/kit/{flash.pk}/test/", BARE | {"finds": "guide"}, follow=True
    )

    flash.refresh_from_db()
    assert (flash.guide_number_m, flash.measured_guide_number_m) == (58.0, 46.0)
    assert "maker’s 58, yours 46: 0.7 stop less" in page.content.decode()
    entry = JournalEntry.objects.get(verb="guide number measured")
    assert entry.data["guide_number_m"] == 46.0
    assert entry.data["distance_m"] == 4.0


def test_plans_use_what_was_measured_until_it_is_taken_back(browser: Browser) -> None:
    flash = a_flash()
    browser.post(f"/kit/{flash.pk}/test/", BARE | {"finds": "guide"})
    flash.refresh_from_db()

    measured = first_flash(SetUp(flash=flash))
    browser.post(f"/kit/{flash.pk}/test/drop/")
    flash.refresh_from_db()
    stated = first_flash(SetUp(flash=flash))

    assert measured is not None
    assert stated is not None
    assert (measured.guide_number_m, stated.guide_number_m) == (46.0, 58.0)
    assert JournalEntry.objects.filter(verb="measured figure taken back").exists()


def test_a_modifiers_loss_counts_from_the_measured_flash() -> None:
    # By hand: guide number 46 bare gives f/11.5 at 4 m; f/5.75 is two stops less.
    by = make_person()
    flash, box = a_flash(), make_item("Soft box", KitCategory.MODIFIER, loss_stops=1.3)
    bare = ProofFrame(f_number=11.5, distance_m=4.0, power=1.0, iso=100.0)
    keep_guide_number(flash_id=flash.pk, frame=bare, modifier=None, by=by, at=NOON)

    through = ProofFrame(f_number=5.75, distance_m=4.0, power=1.0, iso=100.0)
    box = keep_loss(
        flash_id=flash.pk, frame=through, modifier_id=box.pk, by=by, at=NOON
    )

    assert box.measured_loss_stops == pytest.approx(2.0)
    assert box.loss_stops == 1.3
    flash.refresh_from_db()
    lit = first_flash(SetUp(flash=flash, modifier=box))
    assert lit is not None
    assert lit.total_loss_stops == pytest.approx(2.0)


def test_a_known_modifier_is_counted_into_the_guide_number() -> None:
    # By hand: f/5.75 at 4 m through two stops is f/11.5 bare, guide number 46; at a
    # quarter of the power and ISO 400 it is the same frame.
    box = make_item("Soft box", KitCategory.MODIFIER, loss_stops=2.0)
    frame = ProofFrame(f_number=5.75, distance_m=4.0, power=0.25, iso=400.0)

    flash = keep_guide_number(
        flash_id=a_flash().pk, frame=frame, modifier=box, by=make_person(), at=NOON
    )

    assert flash.measured_guide_number_m == 46.0
    assert guide_words(flash) == "maker’s 58, yours 46: 0.7 stop less"


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"power": "much"}, "Write the power as the unit says it"),
        ({"power": "1/0"}, "Write the power as the unit says it"),
        ({"power": "2"}, "Write the power as the unit says it"),
        ({"finds": "loss"}, "Choose the modifier"),
        ({"distance_m": "100", "f_number": "128"}, "its guide number would be"),
        ({"distance_m": ""}, "Fill in “Flash to sitter, m”."),
    ],
)
def test_a_frame_that_cannot_be_gets_its_sentence(
    browser: Browser, answers: dict[str, str], said: str
) -> None:
    flash = a_flash()

    sent = BARE | {"finds": "guide"} | answers
    page = browser.post(f"/kit/{flash.pk}/test/", sent).content.decode()

    assert said in page
    assert f'value="{sent["iso"]}"' in page
    flash.refresh_from_db()
    assert flash.measured_guide_number_m is None


def test_only_a_flash_has_a_test_frame(browser: Browser) -> None:
    assert browser.get(f"/kit/{make_item().pk}/test/").status_code == 404
