"""What the crew's sheet says of who is coming, and what stays off it."""

import pytest

from jobs.attending.group_operations import keep_group
from jobs.attending.models import Need, SessionAnswers
from jobs.bookings.models import Booking
from planning.callsheets.changes import crew_changes
from planning.callsheets.documents import print_call_sheet
from planning.callsheets.kept import kept_content
from planning.callsheets.sheet_content import printed_call_sheet
from planning.session_pages.queries import printed_session
from tests.make import NOON
from tests.make_planning import make_shoot
from tests.planning.reading import words

pytestmark = pytest.mark.django_db


def test_groups_and_whom_to_heed_are_on_the_paper_and_no_more() -> None:
    booking = make_shoot()
    jo = booking.attendees.get(name="Jo Reed")
    players = booking.attendees.get(name="Four players")
    Need.objects.create(
        attendee=jo,
        age=9,
        naps="15:00–16:00",
        wears_glasses=True,
        uses_wheelchair=True,
        not_shown=True,
        flash_sensitive=True,
    )
    SessionAnswers.objects.create(booking=booking, guardian_name="Ines Marlow")
    for name, ids in (("Everyone", [jo.pk, players.pk]), ("Jo Reed alone", [jo.pk])):
        keep_group(
            booking=booking,
            group=None,
            name=name,
            member_ids=ids,
            by=booking.job.owner,
            at=NOON,
        )

    sheet = printed_call_sheet(booking, version=1, at=NOON)
    paper = words(print_call_sheet(sheet))

    assert sheet.who == (
        ("Groups", "1 Everyone (Four players, Jo Reed); 2 Jo Reed alone"),
        ("Not to be shown in published pictures", "Jo Reed"),
        ("Glasses", "Jo Reed"),
        ("Wheelchair", "Jo Reed"),
        ("Looks after the children", "Ines Marlow"),
    )
    for label, names in sheet.who:
        assert f"{label}: {names}." in paper


def test_a_session_of_which_nothing_was_told_has_no_such_lines() -> None:
    assert printed_call_sheet(make_shoot(), version=1, at=NOON).who == ()


def test_what_a_letter_repeats_of_them_names_nobody() -> None:
    booking = make_shoot()
    before = printed_call_sheet(booking, version=1, at=NOON)
    Need.objects.create(
        attendee=booking.attendees.get(name="Jo Reed"),
        age=4,
        naps="15:00–16:00",
        uses_wheelchair=True,
        not_shown=True,
        flash_sensitive=True,
    )
    fresh = Booking.objects.get(pk=booking.pk)
    after = printed_call_sheet(fresh, version=2, at=NOON)
    page = printed_session(fresh, at=NOON)

    told = crew_changes(
        kept_content(booking, before, page), kept_content(fresh, after, page)
    )

    assert "The groups, or who needs what, changed" in told
    assert "Somebody comes by wheelchair" in " ".join(told)
    assert "Jo Reed" not in " ".join(told)
