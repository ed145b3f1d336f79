from datetime import timedelta

import pytest

from jobs.bookings.models import Reservation
from jobs.bookings.operations import confirm_booking, pencil_booking
from jobs.bookings.states import BookingStatus
from jobs.bookings.tasks import let_holds_lapse
from studio.history.models import JournalEntry
from studio.mail.models import Message
from tests.make import NOON, make_booking, make_item

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


def test_holds_that_have_run_out_are_swept_and_the_others_stay() -> None:
    over, running, firm = (make_booking(items=(make_item(str(n)),)) for n in range(3))
    before, until = NOON - timedelta(days=3), NOON - timedelta(minutes=1)
    owner = over.job.owner
    owner.email = "ada@vane.example"
    owner.save()
    pencil_booking(booking_id=over.pk, until=until, by=owner, at=before)
    later = NOON + timedelta(minutes=1)
    pencil_booking(booking_id=running.pk, until=later, by=owner, at=before)
    confirm_booking(booking_id=firm.pk, by=owner, at=before)

    let_holds_lapse()

    for one in (over, running, firm):
        one.refresh_from_db()
    assert [one.status for one in (over, running, firm)] == [
        BookingStatus.PROPOSED,
        BookingStatus.PENCILLED,
        BookingStatus.CONFIRMED,
    ]
    assert not Reservation.objects.filter(booking=over, holds=True).exists()
    letter = Message.objects.get()
    assert (letter.address, letter.object_id) == ("ada@vane.example", over.pk)
    assert "Wed 1 Jul 2026, 13:00–15:00" in letter.body


def test_sweeping_twice_writes_no_second_line() -> None:
    booking = make_booking()
    pencil_booking(
        booking_id=booking.pk,
        until=NOON - timedelta(hours=1),
        by=booking.job.owner,
        at=NOON - timedelta(days=1),
    )

    let_holds_lapse()
    let_holds_lapse(told_twice=True)

    assert JournalEntry.objects.filter(verb="hold lapsed").count() == 1
