"""The call sheet's page: making, sending and handing out papers, by permission."""

from datetime import timedelta
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import Client, RequestFactory
from django.urls import reverse

from jobs.bookings.operations import confirm_booking
from planning.callsheets.models import CallSheet
from planning.callsheets.operations import make_call_sheet
from planning.callsheets.panels import call_sheet_button, call_sheets_to_send
from planning.callsheets.sending import send_call_sheet
from studio.http import staff
from studio.mail.models import Message
from studio.people.models import Person
from tests.make import NOON, make_person
from tests.make_planning import EVENING, make_shoot
from tests.planning.reading import pages

pytestmark = pytest.mark.django_db


def signed_in(person: Person) -> Client:
    client = Client()
    client.force_login(person)
    return client


def test_a_planner_makes_and_sends_it_by_pressing_twice() -> None:
    booking = make_shoot()
    planner = Person.objects.get(is_planner=True)
    client = signed_in(planner)
    made = client.post(reverse("planning:call_sheet_make", args=[booking.pk]))
    assert made.status_code == 302
    page = client.get(made["Location"]).content.decode()
    assert "Send version 1" in page
    assert "ines@quartet.example" in page
    sheet = CallSheet.objects.get()
    send = reverse("planning:call_sheet_send", args=[sheet.pk])
    refused = client.post(send)
    assert refused.status_code == 400
    assert "Tick that it goes out all the same" in refused.content.decode()
    assert not Message.objects.exists()
    client.post(send, {"despite_gaps": "on"})
    assert Message.objects.count() == 4
    page = client.get(made["Location"]).content.decode()
    assert "Send version 1" not in page
    assert "Waiting" in page


def test_a_plan_that_changed_since_is_not_offered_for_sending() -> None:
    booking = make_shoot()
    client = signed_in(booking.job.owner)
    client.post(reverse("planning:call_sheet_make", args=[booking.pk]))
    booking.weather_decision = "Decided by noon"
    booking.save()
    page = client.get(reverse("planning:call_sheet", args=[booking.pk]))
    told = page.content.decode()
    assert "Make version 2" in told
    assert "Send version 1" not in told


def test_both_papers_are_handed_out() -> None:
    booking = make_shoot()
    sheet = make_call_sheet(booking_id=booking.pk, by=booking.job.owner, at=NOON)
    client = signed_in(booking.job.owner)
    for name, count in (("call_sheet_pdf", 2), ("session_pdf", 1)):
        answer = client.get(reverse(f"planning:{name}", args=[sheet.pk]))
        assert answer["Content-Type"] == "application/pdf"
        assert len(pages(answer.content)) == count


def test_a_bookkeeper_neither_sees_nor_sends_it() -> None:
    booking = make_shoot()
    sheet = make_call_sheet(booking_id=booking.pk, by=booking.job.owner, at=NOON)
    client = signed_in(make_person("Cleo Books", hats="bookkeeper"))
    for name in ("call_sheet_pdf", "session_pdf"):
        address = reverse(f"planning:{name}", args=[sheet.pk])
        assert client.get(address).status_code == 403
    address = reverse("planning:call_sheet", args=[booking.pk])
    assert client.get(address).status_code == 403
    address = reverse("planning:call_sheet_send", args=[sheet.pk])
    assert client.post(address).status_code == 403
    assert not Message.objects.exists()


def test_nobody_sees_it_without_signing_in() -> None:
    booking = make_shoot()
    answer = Client().get(reverse("planning:call_sheet", args=[booking.pk]))
    assert answer.status_code == 302
    assert "login" in answer["Location"]


def test_it_is_not_made_or_sent_by_looking() -> None:
    booking = make_shoot()
    client = signed_in(booking.job.owner)
    address = reverse("planning:call_sheet_make", args=[booking.pk])
    assert client.get(address).status_code == 405
    client.get(reverse("planning:call_sheet", args=[booking.pk]))
    assert not CallSheet.objects.exists()
    assert not booking.checklist.exists()


def test_today_asks_for_it_four_days_before_until_it_is_sent() -> None:
    booking = make_shoot()
    owner = booking.job.owner
    at = EVENING - timedelta(days=3)
    assert call_sheets_to_send(owner, at) == []
    confirm_booking(booking_id=booking.pk, by=owner, at=NOON)
    (item,) = call_sheets_to_send(owner, at)
    assert "It is not made yet." in item.reason
    assert item.group == "soon"
    assert call_sheets_to_send(owner, EVENING - timedelta(days=5)) == []
    sheet = make_call_sheet(booking_id=booking.pk, by=owner, at=at)
    (item,) = call_sheets_to_send(owner, EVENING - timedelta(hours=20))
    assert (item.group, "It is made and waits." in item.reason) == ("today", True)
    send_call_sheet(call_sheet_id=sheet.pk, by=owner, at=at, despite_gaps=True)
    assert call_sheets_to_send(owner, at) == []


def test_the_jobs_page_makes_it_at_one_press() -> None:
    booking = make_shoot()

    def drawn() -> str:
        request = staff(RequestFactory().get("/"))
        request.user = booking.job.owner
        return call_sheet_button(request, booking.job)

    assert reverse("planning:call_sheet_make", args=[booking.pk]) in drawn()
    make_call_sheet(booking_id=booking.pk, by=booking.job.owner, at=NOON)
    assert "Call sheet, version 1" in drawn()


def test_the_command_prints_it_to_a_file(tmp_path: Path) -> None:
    booking = make_shoot()
    out = tmp_path / "sheet.pdf"
    said = StringIO()
    call_command("call_sheet", str(booking.pk), out=out, stdout=said)
    assert len(pages(out.read_bytes())) == 2
    assert "version 1" in said.getvalue()
    with pytest.raises(CommandError, match="no booking 0"):
        call_command("call_sheet", "0", out=out)
