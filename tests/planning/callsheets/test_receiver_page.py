"""A receiver's private page: their own paper, what is new to them, and "I read it"."""

from datetime import datetime, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.bookings.models import Attendee, Booking
from planning.callsheets.models import CallSheet, SheetCopy, SheetReceiver
from planning.callsheets.operations import make_call_sheet
from planning.callsheets.receivers import deliveries_of
from planning.callsheets.sending import close_sheet_page, send_call_sheet
from planning.shoots.models import SetUp
from studio.links.models import PrivateLink
from studio.links.operations import token_of
from studio.mail.models import Message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.make_planning import make_shoot

pytestmark = pytest.mark.django_db


def sent(booking: Booking, at: datetime | None = None) -> CallSheet:
    at = at or timezone.now()
    by = booking.job.owner
    sheet = make_call_sheet(booking_id=booking.pk, by=by, at=at)
    return send_call_sheet(call_sheet_id=sheet.pk, by=by, at=at, despite_gaps=True)


@pytest.fixture
def booking() -> Booking:
    shoot = make_shoot()
    StudioProfile.objects.update(public_address="https://studio.example")
    return shoot


def page_of(address: str) -> str:
    receiver = SheetReceiver.objects.get(address=address)
    link = PrivateLink.objects.get(purpose="CALL_SHEET", object_id=receiver.pk)
    return reverse("planning:sheet_of_receiver", args=[token_of(link)])


def test_crew_sees_all_and_the_client_their_own_page_only(booking: Booking) -> None:
    sent(booking)

    crew = Client().get(page_of("ada@vane.example")).content.decode()
    client = Client().get(page_of("ines@quartet.example")).content.decode()

    for told in ("01632 960118", "Camera body A", "Boathouse doors", "f/", "<caption"):
        assert told in crew
    assert crew.index("14:30") < crew.index("15:15")
    for told in ("You: Meet", "How the afternoon goes", "The net loft", "<caption"):
        assert told in client
    for kept in ("960118", "Camera body A", "f/", "ISO", "EV"):
        assert kept not in client


def test_a_new_version_stands_behind_the_same_link_with_what_changed(
    booking: Booking,
) -> None:
    sent(booking)
    address = page_of("ada@vane.example")
    SetUp.objects.filter(name="Bow portraits").update(minutes=20)
    booking.place.parking = "In the yard"
    booking.place.save()

    sent(booking, timezone.now() + timedelta(minutes=1))

    told = Client().get(address).content.decode()
    assert "Version 2" in told
    assert "Changed since version 1" in told
    assert "Parking: In the yard, was “On the hard above the slipway" in told
    letter = Message.objects.filter(address="ada@vane.example").latest("pk")
    assert "- Parking: In the yard" in letter.body
    assert letter.subject.startswith("Changed: ")
    assert letter.link is not None
    assert letter.link.uses == 1


def test_somebody_says_that_they_read_the_version_they_saw(booking: Booking) -> None:
    first = sent(booking)
    address = page_of("ines@quartet.example")
    browser = Client()
    browser.post(address, {"version": "1"})
    copy = SheetCopy.objects.get(read_at__isnull=False)
    assert (copy.sheet, copy.receiver.address) == (first, "ines@quartet.example")
    assert "that you have read this version" in browser.get(address).content.decode()

    booking.place.parking = "In the yard"
    booking.place.save()
    second = sent(booking, timezone.now() + timedelta(minutes=1))
    stale = browser.post(address, {"version": "1"}, follow=True).content.decode()

    assert "Version 2 came meanwhile" in stale
    by_address = {one.recipient.address: one for one in deliveries_of(booking, second)}
    one = by_address["ines@quartet.example"]
    assert one.has is not None
    assert one.read is not None
    assert (one.has.sheet, one.read.sheet, one.read_it) == (second, first, False)


def test_a_closed_page_and_one_of_somebody_who_left_open_nothing(
    booking: Booking,
) -> None:
    sent(booking)
    ines, jo = page_of("ines@quartet.example"), page_of("ada@vane.example")
    Attendee.objects.filter(email="ines@quartet.example").update(email="")
    assert Client().get(ines).status_code == 404
    receiver = SheetReceiver.objects.get(address="ada@vane.example")
    close_sheet_page(receiver_id=receiver.pk, by=booking.job.owner, at=timezone.now())
    assert Client().get(jo).status_code == 404
    assert Client().get(f"{jo}paper/").status_code == 404


def test_without_a_public_address_letters_carry_paper_only(booking: Booking) -> None:
    StudioProfile.objects.update(public_address="")
    sent(booking)
    letters = Message.objects.all()
    assert not any(one.link_id or "{link}" in one.body for one in letters)
    assert Client().get(page_of("ada@vane.example")).status_code == 200


def test_the_jobs_page_shows_who_has_read_what(booking: Booking) -> None:
    sent(booking)
    browser = Client()
    browser.post(page_of("ines@quartet.example"), {"version": "1"})
    studio = Client()
    studio.force_login(Person.objects.get(is_planner=True))
    for address in (
        booking.job.get_absolute_url(),
        reverse("planning:call_sheet", args=[booking.pk]),
    ):
        told = studio.get(address).content.decode()
        assert told.count("Not read") == 3
        assert "Read</span><br>version 1" in told
