"""Slot days: times within a session, each taken once, with a job of its own."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from jobs.bookings.models import Booking
from jobs.bookings.moving import call_off, move_booking, take_up_again
from jobs.bookings.operations import BookingWish, change_booking, confirm_booking
from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.jobs.states import JobStage
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.operations import (
    Offer,
    add_sitting,
    close_day,
    keep_back,
    make_slot_day,
    note_who_came,
    open_day,
    remove_sitting,
    tell_everybody,
)
from jobs.slotdays.queries import (
    count_words,
    day_of,
    how_many,
    rows_of,
    sheet_of,
    with_taken,
)
from jobs.slotdays.rows import SlotDayError, TakenError, page_of
from jobs.slotdays.taking import Visitor, change_sitting, give_back, take_sitting
from jobs.slotdays.times import times_of
from studio.effects import Change, effects_of
from studio.history.models import ActorKind, JournalEntry
from studio.links.models import LinkPurpose, PrivateLink
from studio.mail.models import Message
from studio.timespan import TimeSpan
from tests.make import NOON, make_booking, make_client, make_profile

START = NOON + timedelta(days=10)
TEN = timedelta(minutes=10)
THORN = Visitor(name="Thorn family", email="thorn@home.example", note="Two children")


@pytest.fixture
def day() -> SlotDay:
    make_profile()
    return new_day()


def new_day(**fields: Any) -> SlotDay:
    booking = make_booking(hours=2, **fields)
    values: dict[str, Any] = {
        "title": "Winter portraits",
        "words": "Bring the dog.",
        "price_minor": 4500,
        "currency": "GBP",
        "closes_at": booking.starts_at - timedelta(days=1),
    }
    by = booking.job.owner
    confirm_booking(booking_id=booking.pk, by=by, at=NOON)
    day = make_slot_day(
        booking_id=booking.pk,
        offer=Offer(**values),
        times=times_of(booking.span, length=timedelta(minutes=20), gap=TEN),
        by=by,
        at=NOON,
    )
    open_day(day_id=day.pk, by=by, at=NOON)
    day.refresh_from_db()
    return day


def taken(day: SlotDay, place: int = 0, visitor: Visitor = THORN) -> Sitting:
    one = day.sittings.all()[place]
    return take_sitting(sitting_id=one.pk, visitor=visitor, by=None, at=NOON)


@pytest.mark.django_db
def test_whoever_takes_a_time_has_a_job_a_page_and_a_letter(day: SlotDay) -> None:
    one = taken(day)

    job = Job.objects.get(sitting=one)
    assert (job.title, job.stage) == ("Winter portraits", JobStage.BOOKED)
    assert (job.owner, job.client.name) == (day.booking.job.owner, "Thorn family")
    assert job.wish == "Two children"
    link = PrivateLink.objects.get(purpose=LinkPurpose.SITTING, object_id=job.pk)
    letter = Message.objects.get(link=link)
    assert letter.subject == "Your time: Wednesday 1 July, 13:00"
    assert "{link}" in letter.body
    assert how_many(rows_of(day)) == "1 of 4 times taken"


@pytest.mark.django_db
def test_one_time_is_taken_once_and_the_second_leaves_nothing(day: SlotDay) -> None:
    taken(day)
    before = (Client.objects.count(), Job.objects.count(), Message.objects.count())

    with pytest.raises(TakenError, match="just now"):
        taken(day, visitor=Visitor(name="Bram", phone="+441632960111"))

    after = (Client.objects.count(), Job.objects.count(), Message.objects.count())
    assert after == before


@pytest.mark.django_db
def test_who_is_in_the_book_by_mail_is_the_same_client(day: SlotDay) -> None:
    known = make_client("Thorn", email="THORN@home.example", phone="")

    assert taken(day).job.client == known  # type: ignore[union-attr]


@pytest.mark.django_db
def test_a_number_of_somebody_with_another_mail_is_not_enough(day: SlotDay) -> None:
    known = make_client("Thorn", email="thorn@home.example", phone="+441632960111")
    other = Visitor(name="Bram", phone="+441632960111", email="bram@there.example")

    job = taken(day, visitor=other).job

    assert job is not None
    assert job.client != known


@pytest.mark.django_db
def test_a_time_is_changed_and_given_back_until_it_closes(day: SlotDay) -> None:
    old = taken(day)
    new = day.sittings.all()[2]

    moved = change_sitting(sitting_id=old.pk, to_id=new.pk, by=None, at=NOON)
    again = taken(day, 0, Visitor(name="Bram", email="bram@there.example"))
    with pytest.raises(TakenError):
        change_sitting(sitting_id=again.pk, to_id=new.pk, by=None, at=NOON)

    assert Sitting.objects.get(pk=again.pk).job == again.job
    late = day.closes_at
    with pytest.raises(SlotDayError, match="too late"):
        give_back(sitting_id=moved.pk, because="Ill", by=None, at=late)
    job = moved.job
    assert job is not None
    freed = give_back(
        sitting_id=moved.pk, because="Ill", by=day.booking.job.owner, at=late
    )
    job.refresh_from_db()
    assert (job.stage, job.closed_because) == (JobStage.CANCELLED, "Ill")
    assert not PrivateLink.objects.of(LinkPurpose.SITTING, job.pk).live(at=late)
    assert Sitting.objects.free().filter(pk=freed.pk).exists()


@pytest.mark.django_db
def test_what_somebody_has_is_neither_kept_back_nor_taken_out(day: SlotDay) -> None:
    one, by = taken(day), day.booking.job.owner

    with pytest.raises(SlotDayError, match="free it first"):
        keep_back(sitting_id=one.pk, is_blocked=True, by=by, at=NOON)
    with pytest.raises(SlotDayError, match="free it first"):
        remove_sitting(sitting_id=one.pk, by=by, at=NOON)
    other = day.sittings.all()[1]
    keep_back(sitting_id=other.pk, is_blocked=True, by=by, at=NOON)
    with pytest.raises(TakenError):
        taken(day, 1)


@pytest.mark.django_db
def test_a_time_outside_the_session_or_in_anothers_is_refused(day: SlotDay) -> None:
    by = day.booking.job.owner
    late, amid = day.booking.ends_at - TEN, day.booking.starts_at + TEN

    for start in (late, amid):
        with pytest.raises(SlotDayError):
            add_sitting(
                day_id=day.pk, span=TimeSpan(start, start + 2 * TEN), by=by, at=NOON
            )


@pytest.mark.django_db
def test_a_move_takes_the_times_along_and_everybody_is_told_once(day: SlotDay) -> None:
    one, booking = taken(day), day.booking
    by = booking.job.owner
    shift = timedelta(minutes=30)
    span = booking.span.shifted(shift)
    change = Change(booking=booking, at=NOON, starts_at=span.start, ends_at=span.end)
    told = [effect.words for effect in effects_of(change, by)]

    move_booking(booking_id=booking.pk, span=span, because="Tide", by=by, at=NOON)

    assert "1 person has a time. All times move along" in " ".join(told)
    later = Sitting.objects.get(pk=one.pk)
    assert later.starts_at == one.starts_at + shift
    assert tell_everybody(day_id=day.pk, by=by, at=NOON) == 0
    subject = Message.objects.latest("pk").subject
    assert subject == "Your time is now Wednesday 1 July, 13:30"


@pytest.mark.django_db
def test_when_the_day_is_called_off_nobody_takes_a_time(day: SlotDay) -> None:
    taken(day)
    by = day.booking.job.owner
    call_off(booking_id=day.booking_id, because="Storm", by=by, at=NOON)

    with pytest.raises(SlotDayError, match="called off"):
        taken(day, 1)
    with pytest.raises(SlotDayError, match="called off"):
        open_day(day_id=day.pk, by=by, at=NOON)
    assert Message.objects.latest("pk").subject == "Called off: Winter portraits"
    assert tell_everybody(day_id=day.pk, by=by, at=NOON) == 0
    take_up_again(booking_id=day.booking_id, by=by, at=NOON)
    last = Message.objects.latest("pk").subject
    assert last == "It stands after all: Wednesday 1 July, 13:00"


@pytest.mark.django_db
def test_who_came_is_noted_once(day: SlotDay) -> None:
    one, by = taken(day), day.booking.job.owner
    free = day.sittings.all()[1]

    came = [
        note_who_came(day_id=day.pk, sitting_ids=[one.pk, free.pk], by=by, at=NOON)
        for _ in range(2)
    ]

    assert came == [1, 0]
    assert Job.objects.get(sitting=one).stage == JobStage.SHOT


@pytest.mark.django_db
def test_the_table_of_a_day_has_a_row_for_each_time(
    day: SlotDay, django_assert_num_queries: Any
) -> None:
    taken(day)
    read = day_of(day.booking)
    assert read is not None

    with django_assert_num_queries(1):
        rows = rows_of(read)
    _, cells = sheet_of(day)

    assert [row.state for row in rows] == ["Taken", "Free", "Free", "Free"]
    assert cells[0][:6] == [
        *("13:00", "13:20", "Taken", "Thorn family", "", "thorn@home.example"),
    ]


@pytest.mark.django_db
def test_a_session_is_offered_once_and_with_times(day: SlotDay) -> None:
    offer = Offer(
        title="Again", words="", price_minor=None, currency="GBP", closes_at=START
    )
    by = day.booking.job.owner
    with pytest.raises(SlotDayError, match="already"):
        make_slot_day(booking_id=day.booking_id, offer=offer, times=[], by=by, at=NOON)
    other = make_booking(job=day.booking.job, starts_at=START + timedelta(days=1))

    with pytest.raises(SlotDayError, match="fits"):
        make_slot_day(booking_id=other.pk, offer=offer, times=[], by=by, at=NOON)

    assert not SlotDay.objects.filter(booking=other).exists()


@pytest.mark.django_db
def test_a_free_time_has_no_page(day: SlotDay) -> None:
    with pytest.raises(ValueError, match="no page"):
        page_of(day.sittings.all()[0], at=NOON)


@pytest.mark.django_db
def test_a_shorter_session_drops_free_times_and_has_to_have_room_for_the_taken(
    day: SlotDay,
) -> None:
    taken(day, 2)  # 14:00 to 14:20 of 13:00 to 15:00
    booking, by = day.booking, day.booking.job.owner
    short = TimeSpan(START, START + timedelta(minutes=80))

    move_booking(booking_id=booking.pk, span=short, because="Tide", by=by, at=NOON)

    assert [row.state for row in rows_of(day)] == ["Free", "Free", "Taken"]
    too_short = TimeSpan(START, START + timedelta(minutes=79))
    change = Change(
        booking=booking, at=NOON, starts_at=too_short.start, ends_at=too_short.end
    )
    stops = [one.words for one in effects_of(change, by) if one.is_stop]
    assert stops == [
        "No room any more for Thorn family (Wednesday 1 July, 14:00). Move or free "
        "them."
    ]
    with pytest.raises(SlotDayError, match="No room any more"):
        move_booking(
            booking_id=booking.pk, span=too_short, because="Tide", by=by, at=NOON
        )


@pytest.mark.django_db
def test_times_may_move_onto_the_places_of_their_neighbours(day: SlotDay) -> None:
    # Half an hour is just how far two sittings lie apart here, either way.
    booking, by = day.booking, day.booking.job.owner
    before = list(day.sittings.values_list("starts_at", flat=True))

    for minutes in (30, -60):
        shift = timedelta(minutes=minutes)
        booking.refresh_from_db()
        move_booking(
            booking_id=booking.pk,
            span=booking.span.shifted(shift),
            because="Tide",
            by=by,
            at=NOON,
        )

    after = list(day.sittings.values_list("starts_at", flat=True))
    assert after == [start - timedelta(minutes=30) for start in before]


@pytest.mark.django_db
def test_times_of_an_offered_session_change_by_a_move_only(day: SlotDay) -> None:
    booking = day.booking
    wish = BookingWish(
        place=booking.place,
        starts_at=booking.starts_at + timedelta(hours=1),
        ends_at=booking.ends_at + timedelta(hours=1),
    )

    with pytest.raises(SlotDayError, match="Use “Move”"):
        change_booking(booking_id=booking.pk, wish=wish, by=booking.job.owner, at=NOON)


@pytest.mark.django_db
def test_who_changes_there_and_back_again_is_told_each_time(day: SlotDay) -> None:
    one = taken(day)
    second = day.sittings.all()[1]

    for old, new in ((one, second), (second, one), (one, second)):
        change_sitting(sitting_id=old.pk, to_id=new.pk, by=None, at=NOON)

    told = [message.subject for message in Message.objects.order_by("pk")]
    assert [words.rpartition(", ")[2] for words in told] == [
        *("13:00", "13:30", "13:00", "13:30"),
    ]


@pytest.mark.django_db
def test_a_closed_page_gives_nothing_out_even_to_who_had_it_open(day: SlotDay) -> None:
    close_day(day_id=day.pk, by=day.booking.job.owner, at=NOON)

    with pytest.raises(SlotDayError, match="No times are given out here"):
        taken(day)


@pytest.mark.django_db
def test_a_session_that_holds_nothing_is_not_opened(day: SlotDay) -> None:
    Booking.objects.update(status="PROPOSED", confirmed_at=None)

    with pytest.raises(SlotDayError, match="holds nothing yet"):
        open_day(day_id=day.pk, by=day.booking.job.owner, at=NOON)
    with pytest.raises(SlotDayError, match="No times are given out here"):
        taken(day)


@pytest.mark.django_db
def test_a_time_freed_by_the_studio_is_told_and_one_given_back_is_not(
    day: SlotDay,
) -> None:
    by = day.booking.job.owner
    give_back(sitting_id=taken(day).pk, because="Ill", by=by, at=NOON)
    last = Message.objects.latest("pk").subject
    assert last == "No longer yours: Wednesday 1 July, 13:00"

    mine = taken(day, 1)
    letters = Message.objects.count()
    assert mine.job is not None
    give_back(sitting_id=mine.pk, because="Given back", by=None, at=NOON)

    assert Message.objects.count() == letters
    closed = JournalEntry.objects.get(
        object_type="jobs.job", object_id=mine.job.pk, verb="cancelled"
    )
    assert closed.actor_kind == ActorKind.CLIENT


@pytest.mark.django_db
def test_bookings_know_how_many_times_are_taken(
    day: SlotDay, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    taken(day)
    last = day.sittings.last()
    assert last is not None
    by = day.booking.job.owner
    keep_back(sitting_id=last.pk, is_blocked=True, by=by, at=NOON)
    plain = make_booking(job=day.booking.job)

    with django_assert_num_queries(1):
        words = {one.pk: count_words(one) for one in with_taken(Booking.objects.all())}

    assert words == {day.booking_id: "1 of 3 taken", plain.pk: ""}
