"""The finder's pages: the question, the answer, what was in the way, holding."""

from datetime import UTC, datetime, time
from types import SimpleNamespace
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.operations import pencil_booking
from jobs.calendars.models import BusyCalendar, BusyTime
from jobs.kits.operations import KitContent, keep_kit
from jobs.places.models import Place
from planning.finder import views
from planning.sites.models import Room, Site, Window
from studio.people.models import Person
from tests.make import (
    NOON,
    make_booking,
    make_item,
    make_job,
    make_person,
    make_place,
    make_profile,
)
from tests.make_planning import make_quay

MONDAY = datetime(2027, 10, 11, 8, tzinfo=UTC)
WORKDAYS = ["0", "1", "2", "3", "4"]

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(views, "timezone", SimpleNamespace(now=lambda: MONDAY))
    make_profile()


@pytest.fixture
def ada() -> Person:
    return make_person()


def question(place: Place, **fields: Any) -> dict[str, Any]:
    return {
        "place": place.pk,
        "kind": "bright",
        "side": "any",
        "minutes": "120",
        "share": "50",
        "before": "30",
        "after": "0",
        "first_on": "2027-10-11",
        "last_on": "2027-10-15",
        "weekdays": WORKDAYS,
        "starts": "12:00",
        "ends": "18:00",
    } | fields


def ask(person: Person, **query: Any) -> Any:
    client = Client()
    client.force_login(person)
    return client.get(reverse("planning:finder"), query)


def test_it_opens_with_the_usual_question_for_the_place_it_came_from(
    ada: Person,
) -> None:
    place = make_place()
    told = ask(ada, place=place.pk).content.decode()
    assert f'<option value="{place.pk}" selected>North beach' in told
    assert 'value="2027-10-11"' in told
    assert 'value="2027-12-06"' in told  # eight weeks on
    assert "Error" not in told


def test_the_low_light_on_the_sitters_left_is_found_with_its_reason(
    ada: Person,
) -> None:
    # skyfield 1.55 with DE421 at 54.47, -0.62 on 14 October 2027: the sun sinks through
    # 8 degrees at 17:02:55 and sets at 18:07:33 by London's clock, from 244 to 257
    # degrees. The two hours from 16:15 are the first to hold all 65 minutes; of these
    # the last 60 begin at 17:08, and 16:15 to 17:08 are 53 minutes.
    place = make_place()
    answer = ask(
        ada,
        **question(
            place,
            kind="low",
            side="left",
            facing="NNW",
            first_on="2027-10-14",
            last_on="2027-10-14",
            ends="20:00",
        ),
    ).context["answer"]
    assert answer.count == 1
    assert answer.rows[0].words == (
        "Low sun, sinking from 8° to the horizon, on the sitter’s left from 17:03 "
        "to 18:08; then the sun sets; the start may slip by 53 minutes."
    )


def test_what_is_held_by_a_session_or_an_own_calendar_is_left_out(ada: Person) -> None:
    place, flash = make_place(), make_item("Battery flash")
    for day in (12, 14):
        booking = make_booking(
            place=make_place("Elsewhere"),
            starts_at=datetime(2027, 10, day, 9, tzinfo=UTC),
            hours=8,
            items=(flash,),
        )
        pencil_booking(booking_id=booking.pk, until=MONDAY, by=ada, at=NOON)
    calendar = BusyCalendar.objects.create(person=ada, name="Home", read_next_at=MONDAY)
    BusyTime.objects.create(
        calendar=calendar,
        person=ada,
        starts_at=datetime(2027, 10, 13, tzinfo=UTC),
        ends_at=datetime(2027, 10, 14, tzinfo=UTC),
    )
    asked = question(place, people=[ada.pk], items_support=[flash.pk])

    answer = ask(ada, **asked).context["answer"]

    assert {row.day.day for row in answer.rows} == {11, 15}
    assert answer.days_words == "5 days asked for, 2 with all free."
    assert answer.obstacles == (
        "Battery flash is taken on 2 of 5 days.",
        "Ada Vane, by their own calendar, is taken on 1 of 5 days.",
    )


def test_of_a_kit_with_either_camera_the_one_that_is_free_is_wanted(
    ada: Person,
) -> None:
    lens, one, other = (make_item(name) for name in ("Lens", "Camera A", "Camera B"))
    holds = KitContent(item_ids=[lens.pk], one_of=[[one.pk, other.pk]])
    kit = keep_kit(name="Bag", holds=holds, by=ada, at=NOON)
    for day, items in ((12, (one,)), (13, (one, other))):
        booking = make_booking(
            starts_at=datetime(2027, 10, day, 9, tzinfo=UTC), hours=8, items=items
        )
        pencil_booking(booking_id=booking.pk, until=MONDAY, by=ada, at=NOON)

    answer = ask(ada, **question(make_place(), whole_kits=[kit.pk])).context["answer"]

    wanted = {
        row.day.day: set(parse_qs(urlsplit(row.hold_url).query)["kit"])
        for row in answer.rows
    }
    first, second = {str(lens.pk), str(one.pk)}, {str(lens.pk), str(other.pk)}
    assert wanted == {11: first, 12: second, 14: first, 15: first}
    assert answer.obstacles == (
        "Each of Camera A and Camera B is taken on 1 of 5 days.",
    )


def test_a_room_is_one_sessions_at_a_time_but_not_in_the_way_of_its_own_move(
    ada: Person,
) -> None:
    room = make_place("Studio", is_room=True)
    job = make_job(by=ada)
    booking = make_booking(
        job=job, place=room, starts_at=datetime(2027, 10, 12, 9, tzinfo=UTC), hours=8
    )
    pencil_booking(booking_id=booking.pk, until=MONDAY, by=ada, at=NOON)

    others = ask(ada, **question(room)).context["answer"]
    own = ask(ada, **question(room, job=job.pk)).context["answer"]

    assert {row.day.day for row in others.rows} == {11, 13, 14, 15}
    assert {row.day.day for row in own.rows} == {11, 12, 13, 14, 15}


def test_window_light_knows_the_window_it_is_asked_of(ada: Person) -> None:
    place = make_place()
    room = Room.objects.create(place=place, name="Loft", length_m=6, width_m=4)
    north = Window.objects.create(
        room=room, name="north", width_m=1, height_m=1, facing_deg=0.0
    )
    answer = ask(
        ada, **question(place, kind="window", window=north.pk, share="100")
    ).context["answer"]
    assert {row.day.day for row in answer.rows} == {11, 12, 13, 14, 15}
    assert answer.rows[0].words.startswith("Window light without the sun all through;")


@pytest.mark.parametrize(
    ("fields", "box", "sentence"),
    [
        ({"place": ""}, "place", "Choose “Place”."),
        ({"minutes": "9"}, "minutes", "A session takes 15 minutes at least."),
        ({"weekdays": []}, "weekdays", "Tick at least one day of the week."),
        (
            {"weekdays": ["6"]},
            "weekdays",
            "None of these days of the week lies between the dates.",
        ),
        ({"last_on": "2027-10-10"}, "last_on", "The last day is before the first."),
        ({"last_on": "2028-10-11"}, "last_on", "A search spans a year at most."),
        (
            {"first_on": "2027-01-01", "last_on": "2027-02-01"},
            "last_on",
            "These days are past. Choose days to come.",
        ),
        (
            {"starts": "17:00"},
            "minutes",
            "A session of 120 minutes does not fit in those hours.",
        ),
        (
            {"kind": "window"},
            "window",
            "Choose the window that the light comes through.",
        ),
        (
            {"kind": "shade", "side": "left"},
            "side",
            "Open shade has no side to look for: choose any side.",
        ),
        ({"low": "20", "high": "10"}, "low", "Between 20° and 10° there is no height"),
        ({"side": "left", "facing": "200 magnetic"}, "facing", "compass variation"),
        ({"facing": "the sea"}, "facing", "Write degrees from 0 to 360"),
    ],
)
def test_what_cannot_be_searched_is_said_at_its_box_and_nothing_is_lost(
    ada: Person, fields: dict[str, Any], box: str, sentence: str
) -> None:
    place = make_place()
    page = ask(ada, **(question(place) | fields))
    form = page.context["form"]
    assert set(form.errors) == {box}
    assert sentence in form.errors[box][0]
    assert "answer" not in page.context
    assert form["ends"].value() == time(18)


def test_a_window_of_another_place_is_refused(ada: Person) -> None:
    room = Room.objects.create(
        place=make_place("Elsewhere"), name="Loft", length_m=6, width_m=4
    )
    window = Window.objects.create(
        room=room, name="north", width_m=1, height_m=1, facing_deg=0.0
    )
    page = ask(ada, **question(make_place(), kind="window", window=window.pk))
    assert page.context["form"].errors["window"] == [
        "That window is not at North beach."
    ]


def test_it_says_until_when_the_sun_reaches_a_place(ada: Person) -> None:
    place = make_place()
    fell = {"from_deg": 90, "to_deg": 270, "height_deg": 20, "name": "fell"}
    Site.objects.create(place=place, skyline=[fell], estimated=False)
    # skyfield 1.55 with DE421: at 54.47, -0.62 the sun stands at 20.14 degrees at most
    # on 4 November 2027 and at 19.84 on the 5th.
    answer = ask(
        ada, **question(place, minutes="15", share="25", last_on="2027-12-03")
    ).context["answer"]
    assert answer.days_words.startswith("40 days asked for, ")
    (only,) = answer.obstacles
    assert only == "That light is there within your hours only until 4 November 2027."


def test_a_year_is_paged_and_asks_the_database_a_fixed_number_of_times(
    ada: Person, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    place, item = make_quay(), make_item()
    asked = question(
        place, people=[ada.pk], items_support=[item.pk], last_on="2028-10-09"
    )
    client = Client()
    client.force_login(ada)
    client.get(reverse("planning:finder"), asked)
    with django_assert_num_queries(16):
        page = client.get(reverse("planning:finder"), asked | {"page": "2"})
    answer = page.context["answer"]
    assert len(answer.rows) == 20
    assert answer.page.number == 2
    soonest = client.get(reverse("planning:finder"), asked | {"order": "date"})
    starts = [row.slot.start_at for row in soonest.context["answer"].rows]
    assert starts == sorted(starts)


def test_a_slot_leads_to_the_jobs_session_form_filled_in(ada: Person) -> None:
    place, item = make_place(), make_item()
    job = make_job(by=ada)
    asked = question(place, job=job.pk, people=[ada.pk], items_support=[item.pk])
    row = ask(ada, **asked).context["answer"].rows[0]
    client = Client()
    client.force_login(ada)

    page = client.get(row.hold_url)

    form = page.context["form"]
    local = row.slot.start_at.astimezone(place.zone)
    assert form["place"].value() == place.pk
    assert form["day"].value() == local.date()
    assert form["starts"].value() == local.time()
    assert form["people"].value() == [ada.pk]
    assert form["items_support"].value() == [item.pk]
    assert form["setting_up_minutes"].value() == 30
    assert "Free." in page.content.decode()


def test_without_a_job_a_slot_asks_for_which_and_leads_there(ada: Person) -> None:
    place, job = make_place(), make_job(by=ada)
    row = ask(ada, **question(place)).context["answer"].rows[0]
    client = Client()
    client.force_login(ada)

    told = client.get(row.hold_url).content.decode()

    query = row.hold_url.split("?")[1].replace("&", "&amp;")
    assert f"{reverse('jobs:session', args=[job.pk])}?{query}" in told


@pytest.mark.parametrize(
    "query",
    [
        {},
        {"place": "1", "start": "soon", "end": "later"},
        {"place": "x", "start": "2027-10-14T12:00Z", "end": "2027-10-14T14:00Z"},
        {"place": "1", "start": "2027-10-14T12:00", "end": "2027-10-14T14:00"},
        {"place": "1", "start": "2027-10-14T12:00Z", "end": "2028-10-14T14:00Z"},
    ],
)
def test_an_address_that_names_no_slot_says_so(
    ada: Person, query: dict[str, str]
) -> None:
    client = Client()
    client.force_login(ada)
    told = client.get(reverse("planning:finder_hold"), query).content.decode()
    assert "This address names no slot." in told


def test_places_jobs_and_the_diary_lead_here_for_those_who_plan(ada: Person) -> None:
    place, job = make_place(), make_job(by=ada)
    owner, books = Client(), Client()
    owner.force_login(ada)
    books.force_login(make_person("Bea Lind", hats="bookkeeper"))
    way = reverse("planning:finder")

    assert f"{way}?place={place.pk}" in owner.get(place.get_absolute_url()).text
    assert f"{way}?job={job.pk}" in owner.get(job.get_absolute_url()).text
    assert way in owner.get(reverse("jobs:diary")).text
    assert way not in books.get(reverse("jobs:diary")).text
    assert books.get(way).status_code == 403
