"""The crew's paper: what it says, how long it is, and what ugly data does to it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from jobs.bookings.models import Attendee, Booking, Part
from jobs.kits.models import KitCategory
from planning.callsheets.documents import (
    balanced,
    missing_letters,
    print_call_sheet,
)
from planning.callsheets.queries import content_hash, printed_call_sheet
from planning.session_pages.queries import printed_session
from planning.shoots.choices import SkyWord
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.operations import start_plan
from planning.shoots.queries import planned_shoot
from studio.scene.drawing import Drawing, Text
from tests.make import NOON, make_booking, make_item, make_place, make_profile
from tests.make_planning import EVENING, make_set_up, make_shoot
from tests.planning.reading import pages, words

pytestmark = pytest.mark.django_db
PRINTED_AT = datetime(2027, 10, 12, 9, 12, tzinfo=UTC)


def paper_of(booking: Booking) -> bytes:
    return print_call_sheet(printed_call_sheet(booking, version=3, at=PRINTED_AT))


def chart_words(chart: Drawing) -> str:
    return " | ".join(op.words for op in chart.ops if isinstance(op, Text))


def plan_of(booking: Booking) -> ShootPlan:
    return start_plan(booking=booking, by=booking.job.owner, at=NOON)


def test_it_is_two_pages_with_everything_on_them() -> None:
    first, second = pages(paper_of(make_shoot()))
    for told in (
        "call sheet for J-2026-001, version 3",
        "Thursday 14 October 2027",
        "On site 14:30",
        "First frame 15:15",
        "Access until 18:00",
        "Sandhaven slipway, Quay Lane, Sandhaven.",
        "Ends at 18:00",
        "The net loft, by the north window. Decided by 13:00; Ada rings you.",
        "Boathouse doors",
        "ISO",
    ):
        assert told in first
    for told in (
        "Cautions",
        "headland",
        "light every quarter of an hour",
        "Camera body A",
        "Release forms and a pen",
        "Write it down",
        "Flash: f/",
        "Clear-sky model for 54.470 N, 0.620 W",
        "Printed 12 Oct 2027, 10:12",
    ):
        assert told in second


def test_every_set_up_prints_how_far_its_shutter_may_go_and_its_fallback() -> None:
    booking = make_shoot()
    sheet = printed_call_sheet(booking, version=1, at=PRINTED_AT)
    grey = planned_shoot(booking, sky=SkyWord.OVERCAST)
    for printed, other in zip(sheet.set_ups, grey.set_ups, strict=True):
        now = other.suggestion
        assert now is not None
        shutter = now.shutter.nominal.removesuffix(" s")
        line = f"If overcast: {now.f_number.nominal} {shutter} {now.iso.nominal}"
        assert printed.otherwise.startswith(line)
    first = pages(paper_of(booking))[0]
    assert f"If overcast: 1 {sheet.set_ups[0].otherwise.split(': ')[1]}" in first
    assert "1/100 to 1/200" in first


def test_everybody_who_is_rung_stands_on_it_with_a_number() -> None:
    first = pages(paper_of(make_shoot()))[0]
    for number in ("960101", "960102", "960118", "960140"):
        assert f"01632 {number}" in first
    assert "Four players" in first
    assert "via Ines" in first


def test_sunset_is_that_of_an_almanac() -> None:
    # skyfield 1.55 with JPL's DE421 sets the sun at 54.47, -0.62 on 14 October 2027 at
    # 17:07 UTC, which is 18:07 by the clock of London.
    facts = dict(printed_call_sheet(make_shoot(), version=1, at=PRINTED_AT).facts)
    assert facts["Sunset"] == "18:07"


def test_equal_sheets_give_equal_bytes() -> None:
    booking = make_shoot()
    assert paper_of(booking) == paper_of(booking)


def test_a_later_printing_says_the_same() -> None:
    booking = make_shoot()
    early = printed_call_sheet(booking, version=1, at=PRINTED_AT)
    later = printed_call_sheet(booking, version=2, at=PRINTED_AT + timedelta(hours=3))
    page = printed_session(booking, at=PRINTED_AT)
    later_page = printed_session(booking, at=PRINTED_AT + timedelta(days=3))
    assert early != later
    assert content_hash(early, page) == content_hash(later, later_page)
    moved = replace(later, title="Another title")
    assert content_hash(early, page) != content_hash(moved, page)


def test_twelve_set_ups_and_forty_things_to_pack_run_on_over_more_pages() -> None:
    booking = make_shoot()
    plan = plan_of(booking)
    for number in range(8):
        at = EVENING + timedelta(minutes=20 * number)
        make_set_up(plan, at, name=f"Extra set-up {number}", minutes=15)
    items = [make_item(f"Clamp {n}", KitCategory.SUPPORT) for n in range(40)]
    for item in items:
        booking.reservations.create(
            resource=f"kit:{item.pk}",
            kit_item=item,
            starts_at=booking.starts_at,
            ends_at=booking.ends_at,
        )
    told = pages(paper_of(booking))
    whole = " ".join(told)
    assert 3 <= len(told) <= 6
    assert all(f"Extra set-up {n}" in whole for n in range(8))
    assert all(f"Clamp {n}" in whole for n in range(40))
    assert all("version 3" in page for page in told)
    assert f"Page 1 of {len(told)}" in told[0]


def test_what_does_not_fit_the_first_page_is_followed_by_the_cautions() -> None:
    booking = make_shoot()
    for number in range(3):
        at = EVENING + timedelta(minutes=20 * number)
        make_set_up(plan_of(booking), at, name=f"Extra {number}", minutes=15)

    _, second, *_ = pages(paper_of(booking))

    assert "Extra 2" in second
    assert "Cautions" in second


def test_a_plan_without_set_ups_is_still_a_sheet() -> None:
    make_profile()
    booking = make_booking(starts_at=EVENING)
    told = words(paper_of(booking))
    assert "No set-ups are planned yet." in told
    assert "On site" in told


def test_names_of_every_script_and_marks_of_markup_are_printed_as_they_stand() -> None:
    booking = make_shoot()
    booking.job.title = '<img src="file:///etc/passwd"/> & Söhne'
    booking.job.save()
    for name in ("Ελένη Παπαδοπούλου", "Анна Ковальчук"):
        Attendee.objects.create(booking=booking, name=name, part=Part.SITTER)
    told = words(paper_of(booking))
    assert '<img src="file:///etc/passwd"/>' in told
    assert "Ελένη Παπαδοπούλου" in told
    assert "Анна Ковальчук" in told
    assert missing_letters(booking, PRINTED_AT) == ""


def test_letters_that_no_font_has_are_named_before_printing() -> None:
    booking = make_shoot()
    Attendee.objects.create(booking=booking, name="山田 Jo", part=Part.SITTER)
    assert missing_letters(booking, PRINTED_AT) == "山田"
    assert len(pages(paper_of(booking))) == 2


def test_a_place_of_three_hundred_letters_keeps_the_sheet_whole() -> None:
    booking = make_shoot()
    booking.place.name = ("The long way round the harbour " * 10)[:300]
    booking.place.save()
    told = pages(paper_of(booking))
    assert len(told) <= 3
    assert "The long way round the harbour" in told[0]
    assert "Write it down" in told[-1]


def test_a_session_across_midnight_says_on_which_day_it_wraps() -> None:
    make_profile()
    starts_at = datetime(2027, 6, 18, 21, 30, tzinfo=ZoneInfo("Europe/London"))
    booking = make_booking(starts_at=starts_at, hours=4)
    facts = dict(printed_call_sheet(booking, version=1, at=PRINTED_AT).facts)
    assert facts["Wrap, Sat 19 Jun"] == "01:30"
    assert "Friday 18 June 2027" in words(paper_of(booking))


def test_a_night_on_which_the_clocks_go_back_is_counted_hour_by_hour() -> None:
    # Directive 2000/84/EC and the tz database: clocks go back at 01:00 UTC on the last
    # Sunday of October, so 01:00–02:00 of 31 October 2027 comes twice in London.
    make_profile()
    starts_at = datetime(2027, 10, 30, 23, 45, tzinfo=UTC)
    booking = make_booking(starts_at=starts_at, hours=2.5)
    plan = plan_of(booking)
    make_set_up(
        plan, starts_at + timedelta(minutes=60), minutes=90, name="Harbour lamps"
    )
    sheet = printed_call_sheet(booking, version=1, at=PRINTED_AT)
    assert dict(sheet.facts)["Wrap"] == "02:15"
    assert (sheet.set_ups[0].start, sheet.set_ups[0].end) == ("01:45 BST", "02:15")
    assert sheet.set_ups[0].minutes == 90
    assert "go back by 60 minutes" in sheet.cautions[0][0]
    for drawing in (sheet.light_table.description, chart_words(sheet.chart)):
        assert drawing.count("01:00 BST") == drawing.count("01:00 GMT") == 1
    assert words(print_call_sheet(sheet)).count("01:00") >= 2


def test_a_midsummer_night_at_69_north_has_no_sunset() -> None:
    # From memory: at 69.65° N the sun stays up from about 20 May to 22 July.
    make_profile()
    place = make_place(
        "Ytre fjord",
        latitude_deg=69.65,
        longitude_deg=18.96,
        time_zone="Europe/Oslo",
    )
    starts_at = datetime(2027, 6, 21, 22, tzinfo=ZoneInfo("Europe/Oslo"))
    booking = make_booking(place=place, starts_at=starts_at, hours=4)
    make_set_up(
        plan_of(booking), starts_at, name="Midnight sun", camera_heading_deg=180
    )
    sheet = printed_call_sheet(booking, version=1, at=PRINTED_AT)
    assert dict(sheet.facts)["Sun"] == "all day"
    told = pages(print_call_sheet(sheet))
    assert len(told) == 2
    assert "down" not in sheet.light_table.description


def test_a_set_up_that_no_camera_could_take_says_so_on_paper() -> None:
    booking = make_shoot()
    SetUp.objects.filter(name="Bow portraits").update(distance_m=0.01)
    told = words(paper_of(booking))
    assert "Bow portraits" in told
    assert "do not fit together" in told


def test_a_long_section_of_kit_runs_on_over_three_columns() -> None:
    grip = tuple(f"Clamp {n}" for n in range(10))
    columns = balanced([("Light", ("Flash",)), ("Grip", grip)], 3)
    assert columns[0] == [("Light", ("Flash",)), ("Grip", grip[:3])]
    assert [sum(len(items) for _, items in column) for column in columns] == [4, 4, 3]


def test_five_set_ups_fit_two_pages_and_only_one_table_head() -> None:
    booking = make_shoot()
    at = EVENING + timedelta(minutes=5)
    make_set_up(plan_of(booking), at, name="Extra set-up", minutes=10)

    told = pages(paper_of(booking))

    assert len(told) == 2
    assert "Extra set-up" in told[0]
    assert sum(page.count("From above") for page in told) == 1


def test_thirty_who_come_leave_the_first_page_to_the_set_ups() -> None:
    booking = make_shoot()
    names = ("Ελένη Παπαδοπούλου", "Анна Ковальчук", "Featherstonehaugh")
    Attendee.objects.bulk_create(
        Attendee(booking=booking, name=f"{names[n % 3]} {n}", phone="01632 960999")
        for n in range(30)
    )

    told = pages(paper_of(booking))

    assert len(told) == 3
    assert "Lamp room" in told[0]
    assert "And 29 more" in told[0]
    assert sum(page.count("960999") for page in told) == 30
    assert "Παπαδοπούλου" in told[2]
